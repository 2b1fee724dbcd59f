package procedure

// gearsFitRules tie the fit rules of this area to the attributes of the sheet.
func gearsFitRules() map[string]fitRule { return nil }
