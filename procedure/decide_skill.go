package procedure

// Skills hold up intentions only. A reading by a hand that has not shown the
// skill counts like any other: the wrench, the window and the order say what
// the joint got, whoever pulled, and a fact that did not count would only be
// pulled again by the same hand. What such work may lack is what no reading
// shows, so an auditor finds it, and a person decides.

// mayOpen refuses to open a job for a person who has not shown the skills that
// it takes, unless somebody who has stays with the work. A supervisor who is
// named must be one in any case: the record says so for ever.
func (d *decision) mayOpen(c OpenJob) error {
	now := d.call.Moment.Best()
	if c.Supervisor != nil {
		return d.maySupervise(c)
	}
	if rule, text := d.call.By.Skills.cannot(c.Plan.Takes, now, "you", "have"); rule != "" {
		return refuse(rule, c.Plan.Procedure, "%s: open the job with a supervisor who stays with the work", text)
	}
	return nil
}

// maySupervise refuses a supervisor who is the person to be supervised, may
// not be a second person, or cannot do the work either.
func (d *decision) maySupervise(c OpenJob) error {
	s := c.Supervisor
	switch {
	case s.Person == "":
		return &FieldError{Path: "supervisor", Rule: "missing", Text: "say who stays with the work"}
	case s.Person == d.call.By.Person:
		return refuse(RuleOwnWork, c.Plan.Procedure, "nobody supervises own work: ask another person to stay with it")
	case !s.Rank.MaySecond():
		return refuse(RuleRank, c.Plan.Procedure, "the supervisor must be a senior builder or the foreman")
	}
	if rule, text := s.Skills.cannot(c.Plan.Takes, d.call.Moment.Best(), "the supervisor", "has"); rule != "" {
		return refuse(rule, c.Plan.Procedure, "%s: ask another person to stay with the work", text)
	}
	return nil
}

// mayJudge refuses the word of a person about work that the person could not
// do. Nobody can stay with the second person in place of the skill: the second
// person is the one who knows. A supervisor is another person for a hold point
// as long as the hands on the step were not the supervisor's own.
func (d *decision) mayJudge(j *Job, step string) error {
	if rule, text := d.call.By.Skills.cannot(j.Plan.Takes, d.call.Moment.Best(), "you", "have"); rule != "" {
		return refuse(rule, step, "%s: ask a person who has it to look", text)
	}
	return nil
}
