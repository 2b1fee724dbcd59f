package procedure

// brakesFitRules tie the fit rules of this area to the attributes of the sheet.
func brakesFitRules() map[string]fitRule { return nil }
