package main

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/catalogue"
)

type materialFlags struct {
	parts, known        []string
	never, pair, folder string
}

func newMaterialsCommand() *cobra.Command {
	var flags materialFlags
	cmd := &cobra.Command{
		Use:   "materials",
		Short: "What goes between parts by their materials, why, and what never does",
		Long: `What goes between parts by their materials, why, and what never does.

It lists the places where parts of a bicycle meet, with the prep that the procedures
use there. --part keeps those where a part is, --of says what a part is made of or what
else is known of it, and leaves only what can count then.

--never grease lists what must never be greased, and so for any other prep.

--pair explains two materials by themselves, the inner one first: which is eaten in the
wet, whether they tear as they slide, and what goes between.

What the maker prints comes first.`,
		Example: `  tightwright materials --part seatpost
  tightwright materials --part seatpost --of seatpost.material=carbon --of frame.material=alloy
  tightwright materials --never grease
  tightwright materials --pair alloy,carbon`,
		Args:              noArguments,
		ValidArgsFunction: cobra.NoFileCompletions,
		RunE:              func(cmd *cobra.Command, _ []string) error { return runMaterials(cmd, flags) },
	}
	set := cmd.Flags()
	set.StringArrayVar(&flags.parts, "part", nil, "keep places where this `role` is, such as seatpost or rotor; can be given more than once")
	set.StringArrayVar(&flags.known, "of", nil, "what is known of a part, as `role.attribute=value`; can be given more than once")
	set.StringVar(&flags.never, "never", "", "keep places where this `prep` must never go")
	set.StringVar(&flags.pair, "pair", "", "explain two `materials`, as inner,outer")
	set.StringVar(&flags.folder, "catalogue", "", catalogueUsage)
	return cmd
}

func runMaterials(cmd *cobra.Command, flags materialFlags) error {
	out, err := flags.answer()
	if err != nil {
		return refused(cmd, err)
	}
	if wantsJSON(cmd) {
		return writeJSON(cmd, out.object())
	}
	return writeText(cmd, out.words())
}

func (f materialFlags) answer() (answer, error) {
	if f.pair != "" {
		if len(f.parts) > 0 || len(f.known) > 0 || f.never != "" {
			return nil, wrong(reasonBadOption, "pair: it goes with no other flag")
		}
		return pairOf(f.pair)
	}
	c, err := loadCatalogue(f.folder)
	if err != nil {
		return nil, err
	}
	known, err := f.knownOf(c.Vocabulary)
	if err != nil {
		return nil, err
	}
	never, err := f.neverPrep()
	if err != nil {
		return nil, err
	}
	return f.contacts(c, known, never)
}

// pairOf explains a pair of materials.
func pairOf(text string) (answer, error) {
	inner, outer, ok := strings.Cut(text, ",")
	if !ok {
		return nil, wrong(reasonBadOption, "pair %q: write two materials, as in alloy,carbon", clipped(text))
	}
	pair, err := procedure.ExplainPair(strings.TrimSpace(inner), strings.TrimSpace(outer))
	var f faults
	for _, fe := range procedure.FieldErrors(err) {
		f.add("pair", reasonUnknownWord, "%s", fe.Text)
	}
	return pairAnswer(pair), f.err()
}

func (f materialFlags) neverPrep() (procedure.Prep, error) {
	var never procedure.Prep
	if err := never.UnmarshalText([]byte(f.never)); err != nil {
		return 0, wrong(reasonBadOption, "never: %s", err)
	}
	return never, nil
}

// knownOf reads what is known of the bike, each in the form of its attribute.
func (f materialFlags) knownOf(vocab *procedure.Vocabulary) (map[string]string, error) {
	out := map[string]string{}
	for _, text := range f.known {
		key, value, ok := strings.Cut(text, "=")
		key, value = strings.TrimSpace(key), strings.TrimSpace(value)
		if !ok || value == "" {
			return nil, wrong(reasonBadOption, "of %q: write role.attribute=value, as in seatpost.material=carbon", clipped(text))
		}
		a, known := vocab.Attribute(key)
		if !known {
			return nil, wrong(reasonNotFound, "of %q: there is no such attribute of a part", clipped(key))
		}
		if a.Form == "choice" && !slices.Contains(a.Choices, value) {
			return nil, wrong(reasonUnknownWord, "of %q: write one of %s", clipped(text), strings.Join(a.Choices, ", "))
		}
		out[key] = value
	}
	return out, nil
}

func (f materialFlags) contacts(c *catalogue.Catalogue, known map[string]string, never procedure.Prep) (answer, error) {
	for _, role := range f.parts {
		if !slices.ContainsFunc(c.Contacts, func(x procedure.Contact) bool { return x.IsBetween(role) }) {
			return nil, wrong(reasonNotFound, "part %q: no place is listed where such a part meets another", clipped(role))
		}
	}
	var out contactsAnswer
	for i := range c.Contacts {
		x := c.Contacts[i]
		if !slices.ContainsFunc(f.parts, func(role string) bool { return !x.IsBetween(role) }) {
			x.Uses = forbidding(x.Under(known), never)
			if len(x.Uses) > 0 && isAbout(&x, known) {
				out = append(out, x)
			}
		}
	}
	return out, nil
}

// forbidding keeps the uses that forbid a prep; all of them for none.
func forbidding(uses []procedure.PrepChoice, never procedure.Prep) []procedure.PrepChoice {
	if never == 0 {
		return uses
	}
	return slices.DeleteFunc(uses, func(u procedure.PrepChoice) bool { return !slices.Contains(u.Never, never) })
}

// isAbout reports whether all parts of which something is known meet here.
func isAbout(x *procedure.Contact, known map[string]string) bool {
	for key := range known {
		role, _, _ := strings.Cut(key, ".")
		if !x.IsBetween(role) {
			return false
		}
	}
	return true
}
