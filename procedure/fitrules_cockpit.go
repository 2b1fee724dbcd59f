package procedure

// cockpitFitRules tie the fit rules of this area to the attributes of the sheet.
func cockpitFitRules() map[string]fitRule { return nil }
