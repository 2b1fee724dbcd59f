package fit

// railTolerance is how far rails and cradle may differ. Source: common
// practice, no source.
const railTolerance = 200 * Micrometer

// Rails is the cross-section of saddle rails, or the one a cradle is made for:
// 7 x 7 mm round metal, 7 x 9 mm or 7 x 9.6 mm oval carbon, and others.
type Rails struct{ Width, Height Length }

// SaddleRails compares rails and cradle across their "width" and "height", each
// equal within 0.2 mm.
func SaddleRails(rails, cradle Rails, ins Instrument) ([]Result, error) {
	var in inputs
	in.length("rails.width", rails.Width, 4*Millimeter, 15*Millimeter)
	in.length("rails.height", rails.Height, 4*Millimeter, 15*Millimeter)
	in.length("cradle.width", cradle.Width, 4*Millimeter, 15*Millimeter)
	in.length("cradle.height", cradle.Height, 4*Millimeter, 15*Millimeter)
	in.instrument(ins)
	if err := in.err("saddle-rails"); err != nil {
		return nil, err
	}
	return []Result{
		equal("saddle-rails", "width", "rails", rails.Width, "cradle", cradle.Width, railTolerance, ins),
		equal("saddle-rails", "height", "rails", rails.Height, "cradle", cradle.Height, railTolerance, ins),
	}, nil
}
