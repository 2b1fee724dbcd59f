package procedure

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Longest texts that the bench tablet shows without cutting, in characters.
const (
	maxTitle    = 60
	maxSentence = 200
	maxAbout    = 300
	maxShort    = 80
)

// CheckDefinition looks for what is wrong with a definition that has the right form:
// references that lead nowhere, a torque without a stated prep, passes that do
// not end at full value, a hold that nobody signs, a wait without conditions,
// a measure without limits, results that void each other in a circle, texts
// that the tablet would cut. Each finding is a FieldError with the path of the
// field, all of them joined; Locate adds file and line. It returns nil for a
// sound definition.
//
// joints and vocab are the table and the words that the definition refers to;
// others are the definitions it may refer to by name, itself among them or
// not. To check many of them together, see References.
func CheckDefinition(def *Definition, joints []JointRow, vocab *Vocabulary, others []*Definition) error {
	return NewReferences(joints, vocab, others).Check(def)
}

// checker carries what the parts of a check share.
type checker struct {
	problems
	*References
	def *Definition
}

// head checks what stands above the steps.
func (c *checker) head() {
	d := c.def
	c.id("id", d.ID)
	c.text("title", d.Title, maxTitle)
	c.text("about", d.About, maxAbout)
	if d.Edition < 1 {
		c.add("edition", "out-of-range", "count the editions from 1")
	}
	if d.Risk == 0 {
		c.add("risk", "missing", "give the class of the job's worst joint: %s", strings.Join(riskNames[1:], ", "))
	}
	c.source("source", &d.Source)
	if d.LeastMinutes < 1 || d.Minutes < d.LeastMinutes {
		c.add("least_minutes", "out-of-range", "the shortest plausible time is at least 1 and at most minutes, which is %d", d.Minutes)
	}
	c.roles("roles", d.Roles, c.vocab.roleNames())
	if len(d.Roles) == 0 {
		c.add("roles", "missing", "list the parts that the build sheet must have")
	}
	c.roles("may_have", d.MayHave, c.vocab.roleNames())
	for i, role := range d.MayHave {
		if slices.Contains(d.Roles, role) {
			c.add(fmt.Sprintf("may_have[%d]", i), "duplicate", "%q stands under roles already: the bike must have it or may have it", role)
		}
	}
	c.condition("when", d.When)
	for i, rule := range d.Fit {
		if _, _, _, ok := FitRuleUses(rule); !ok {
			c.add(fmt.Sprintf("fit[%d]", i), "unknown-fit-rule", "there is no fit rule %q%s", rule, meant(rule, FitRules()))
		}
	}
	c.once("fit", d.Fit)
	for i, id := range d.After {
		if _, ok := c.procedures[id]; !ok || id == d.ID {
			c.add(fmt.Sprintf("after[%d]", i), "unknown-procedure", "there is no other procedure %q%s", id, meant(id, keysOf(c.procedures)))
		}
	}
	c.texts("cautions", d.Cautions, maxSentence)
	c.texts("tools", d.Tools, maxShort)
	c.texts("consumables", d.Consumables, maxShort)
	if len(d.Steps) == 0 {
		c.add("steps", "missing", "a procedure has steps")
	}
}

// worstRisk holds the procedure's class to what it says it is: release and
// sampling go by it, so it may be neither too low nor too high.
func (c *checker) worstRisk() {
	var worst Risk
	for i := range c.def.Steps {
		s := &c.def.Steps[i]
		worst = max(worst, s.Risk)
		if s.Torque == nil {
			continue
		}
		for _, choice := range s.Torque.Joints {
			if row, ok := c.joints[choice.Joint]; ok {
				worst = max(worst, row.Risk)
			}
		}
	}
	if c.def.Risk != 0 && worst != 0 && worst != c.def.Risk {
		c.add("risk", "not-the-worst", "the worst joint of the job is %s, so write risk: %s", worst, worst)
	}
}

// roles wants each of the roles to be one of known, and once.
func (c *checker) roles(path string, roles, known []string) {
	for i, role := range roles {
		if !slices.Contains(known, role) {
			c.add(fmt.Sprintf("%s[%d]", path, i), "unknown-role", "there is no role %q here%s", role, meant(role, known))
		}
	}
	c.once(path, roles)
}

// once wants no word twice in a list.
func (c *checker) once(path string, list []string) {
	for i, v := range list {
		if slices.Index(list, v) < i {
			c.add(fmt.Sprintf("%s[%d]", path, i), "duplicate", "%q stands here twice", v)
		}
	}
}

// id wants the form that URLs, file names and records can carry.
func (p *problems) id(path, id string) {
	if !validID(id) {
		p.add(path, "malformed-id", "write lower-case letters, digits and hyphens, at most 63, not %q", id)
	}
}

// source wants every figure and rule to say where it comes from.
func (p *problems) source(path string, s *Source) {
	p.text(path+".text", s.Text, maxSentence)
	if s.Confidence == 0 {
		p.add(path+".confidence", "missing", "say how far the source can be leaned on: %s", strings.Join(confidenceNames[1:], ", "))
	}
}

func (p *problems) texts(path string, list []string, most int) {
	for i, text := range list {
		p.text(fmt.Sprintf("%s[%d]", path, i), text, most)
	}
}

// torqueInText finds a torque in prose. Figures stand in the joint table and
// nowhere else, so that nothing is typed twice and then changed once.
var torqueInText = regexp.MustCompile(`(?i)[0-9]\s*(n·?m|newton|lbf|in-?lb|ft-?lb|kgf)\b`)

// text wants a text of at most so many characters, on one line.
func (p *problems) text(path, text string, most int) {
	if strings.TrimSpace(text) == "" {
		p.add(path, "missing", "nothing stands here, and the bench needs it")
		return
	}
	p.optional(path, text, most)
}

// optional is text for a field that may be left out.
func (p *problems) optional(path, text string, most int) {
	if n := utf8.RuneCountInString(text); n > most {
		p.add(path, "too-long", "the tablet shows %d characters here, this has %d: say it shorter or make it two steps", most, n)
	}
	if strings.ContainsFunc(text, unicode.IsControl) {
		p.add(path, "unprintable", "write one paragraph without line breaks; in YAML, >- folds lines into one")
	}
	if strings.ContainsAny(text, "0123456789") && torqueInText.MatchString(text) {
		p.add(path, "torque-in-text", "a torque stands in the joint table only: name the joint, the plan shows its figure")
	}
}

// decimal wants a plain decimal of 0 or more.
func (p *problems) decimal(path, text string) {
	if r, err := parseDecimal(text); err != nil || r.Sign() < 0 {
		p.add(path, "malformed", "write a number of 0 or more, such as 0.5, not %q", text)
	}
}
