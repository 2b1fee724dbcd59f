package joint

// grades are the austenitic steel grades of ISO 3506-1; "A" is a grade not told.
var grades = [...]string{"A", "A1", "A2", "A3", "A4", "A5"}

// Where the strengths come from.
const (
	fromISO898     = "ISO 898-1:2013 table 3, as quoted in public manufacturer tables"
	fromISO898Memo = "ISO 898-1:2013 table 3; proof and tensile strength as quoted in public manufacturer tables, yield from memory"
	fromISO3506    = "ISO 3506-1, as quoted in public manufacturer tables"
	fromISO8839    = "ISO 8839 / DIN EN 28839, table quoted in a public directory of fasteners"
)

// A classRow holds one class over a range of nominal diameters, in MPa.
type classRow struct {
	name         string
	isAustenitic bool
	sizes        []sizeRow
}

// A sizeRow holds for diameters over the row before and up to upToMM.
type sizeRow struct {
	overMM, upToMM        float64
	tensile, yield, proof float64 // proof 0: the standard states none
	next                  float64 // upper strength when stripping is designed, 0: not stated
	source                string
}

// one is the rows of a class that is the same for every diameter up to upToMM.
func one(upToMM, tensile, yield, proof, next float64, source string) []sizeRow {
	return []sizeRow{{0, upToMM, tensile, yield, proof, next, source}}
}

// Smallest and largest diameter of ISO 898-1, ISO 3506-1 and ISO 8839.
const (
	smallestClassMM = 1.6
	largestClassMM  = 39
)

// classes lists the strengths: tensile Rm,min, yield (ReL, Rpf or Rp0.2 min),
// proof Sp. "next" is the tensile strength of the next class, which is the rule
// for designing a thread not to strip before the bolt breaks.
//
// Yield of 4.8, 5.8 and 6.8 is Rpf, which the standard gives for the ratio of
// proof to yield only.
var classes = [...]classRow{
	{"4.6", false, one(39, 400, 240, 225, 500, fromISO898)},
	{"4.8", false, one(39, 420, 340, 310, 500, fromISO898Memo)},
	{"5.6", false, one(39, 500, 300, 280, 600, fromISO898)},
	{"5.8", false, one(39, 520, 420, 380, 600, fromISO898Memo)},
	{"6.8", false, one(39, 600, 480, 440, 800, fromISO898)},
	{"8.8", false, []sizeRow{
		{0, 16, 800, 640, 580, 1000, fromISO898},
		{16, 39, 830, 660, 600, 1000, fromISO898},
	}},
	{"9.8", false, one(16, 900, 720, 650, 1000, fromMemory)},
	{"10.9", false, one(39, 1040, 940, 830, 1200, fromISO898)},
	{"12.9", false, one(39, 1220, 1100, 970, 0, fromISO898)},
	{"50", true, one(39, 500, 210, 0, 700, fromISO3506)},
	{"70", true, one(24, 700, 450, 0, 800, fromISO3506)},
	{"80", true, one(24, 800, 600, 0, 0, fromISO3506)},
	{"AL1", false, []sizeRow{
		{0, 10, 270, 230, 0, 0, fromISO8839}, {10, 20, 250, 180, 0, 0, fromISO8839},
	}},
	{"AL2", false, []sizeRow{
		{0, 14, 310, 205, 0, 0, fromISO8839}, {14, 36, 280, 200, 0, 0, fromISO8839},
	}},
	{"AL3", false, []sizeRow{
		{0, 6, 320, 250, 0, 0, fromISO8839}, {6, 39, 310, 260, 0, 0, fromISO8839},
	}},
	{"AL4", false, []sizeRow{
		{0, 10, 420, 290, 0, 0, fromISO8839}, {10, 39, 380, 260, 0, 0, fromISO8839},
	}},
	{"AL5", false, one(39, 460, 380, 0, 0, fromISO8839)},
	{"AL6", false, one(39, 510, 440, 0, 0, fromISO8839)},
	{"TI1", false, one(20, 290, 180, 0, 0, fromISO8839)},
	{"TI2", false, one(39, 890, 820, 0, 0, fromISO8839)},
	{"CU1", false, one(39, 240, 160, 0, 0, fromISO8839)},
	{"CU2", false, []sizeRow{
		{0, 6, 440, 340, 0, 0, fromISO8839}, {6, 39, 370, 250, 0, 0, fromISO8839},
	}},
	{"CU3", false, []sizeRow{
		{0, 6, 440, 340, 0, 0, fromISO8839}, {6, 39, 370, 250, 0, 0, fromISO8839},
	}},
	{"CU4", false, []sizeRow{
		{0, 12, 470, 340, 0, 0, fromISO8839}, {12, 39, 400, 200, 0, 0, fromISO8839},
	}},
	{"CU5", false, one(39, 590, 540, 0, 0, fromISO8839)},
	{"CU6", false, []sizeRow{{6, 39, 440, 180, 0, 0, fromISO8839}}},
	{"CU7", false, []sizeRow{{12, 39, 640, 270, 0, 0, fromISO8839}}},
}
