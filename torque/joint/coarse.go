package joint

// coarse lists the coarse pitch of each metric size, both in hundredths of a
// millimeter.
//
// Source: ISO 261, general plan, column "coarse". The sizes 2 to 6, 8, 10, 12,
// 16, 18, 20 and 24 are checked against quoted proof-load tables in
// testdata/vectors/joint_threads_metric.csv; the others are from memory.
var coarse = map[int64]int64{
	100: 25, 120: 25, 160: 35, 200: 40, 250: 45, 300: 50, 350: 60, 400: 70,
	500: 80, 600: 100, 700: 100, 800: 125, 1000: 150, 1200: 175, 1400: 200,
	1600: 200, 1800: 250, 2000: 250, 2200: 250, 2400: 300, 2700: 300,
	3000: 350, 3300: 350, 3600: 400, 3900: 400, 4200: 450, 4500: 450,
	4800: 500, 5200: 500, 5600: 550, 6000: 550, 6400: 600,
}

// coarsePitch returns the coarse pitch of a metric size in millimeters.
func coarsePitch(diameter Ratio) (Ratio, bool) {
	if diameter.IsZero() || (100*diameter.Num)%diameter.Den != 0 {
		return Ratio{}, false
	}
	p, ok := coarse[100*diameter.Num/diameter.Den]
	return reduced(p, 100), ok
}
