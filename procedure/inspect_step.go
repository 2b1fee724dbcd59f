package procedure

// Items lists what the step must have a result for, in the order of the work:
// its prep, its bolts, its checks.
func (s *PlannedStep) Items() []string { return s.items() }

// Lacks says in words what the step still needs, "" when it lacks nothing. An
// open hold is not counted.
func (s *StepState) Lacks() string { return s.lacks() }

// Holds evaluates the condition. look returns an attribute's value and whether
// it is known. missing lists attributes that the answer depends on and that
// are not known; holds is false then.
func (c Condition) Holds(look func(key string) (string, bool)) (holds bool, missing []string) {
	return c.holds(look)
}

// Choose returns the first choice whose condition holds, which is the one a
// plan takes, and false where none does.
func Choose(choices []PrepChoice, look func(key string) (string, bool)) (PrepChoice, bool) {
	for _, c := range choices {
		if ok, _ := c.When.holds(look); ok {
			return c, true
		}
	}
	return PrepChoice{}, false
}
