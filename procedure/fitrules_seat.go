package procedure

// seatFitRules tie the fit rules of this area to the attributes of the sheet.
func seatFitRules() map[string]fitRule { return nil }
