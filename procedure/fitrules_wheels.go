package procedure

// wheelsFitRules tie the fit rules of this area to the attributes of the sheet.
func wheelsFitRules() map[string]fitRule { return nil }
