package fit

// The families of cable pull.
const (
	ShortPull   = "short pull"    // calipers, cantilevers, most cable disc brakes
	LongPull    = "long pull"     // linear-pull brakes and some cable disc brakes
	DropBarPull = "drop-bar pull" // later drop-bar levers, often in between
)

func pulls() []string { return []string{ShortPull, LongPull, DropBarPull} }

// LeverPull asks whether a brake lever pulls as much cable as the brake needs:
// the same family or none. Source: common practice, no source.
func LeverPull(lever, brake string) (Result, error) {
	var in inputs
	in.choice("lever", lever, pulls()...)
	in.choice("brake", brake, pulls()...)
	if err := in.err("lever-pull"); err != nil {
		return Result{}, err
	}
	return pullResult(lever, brake), nil
}

func pullResult(lever, brake string) Result {
	r := compared("lever-pull", "", "lever "+lever+", brake needs "+brake, "the same family of pull")
	r.Why = "Lever and brake move the same amount of cable."
	if lever == brake {
		return r
	}
	r.Verdict = DoesNotFit
	r.Why = "Lever and brake differ in how much cable they move: the brake would grab without feel, or the lever would reach the bar first. Without a converter made for this pair it stays off."
	return r
}
