package joint

// A Known thread is one that is in use on bicycles, with what it is used for
// and where its size was read.
type Known struct {
	Thread Thread
	Use    string
	Source string
}

// Where the sizes come from. "From memory" sizes are common practice that was
// not looked up; measure before relying on them.
const (
	fromISO6696   = "ISO 6696:1989, scope as quoted by a standards index"
	fromISO6698   = "ISO 6698:1989, title and contents as quoted"
	fromDIN79012  = "DIN 79012, as quoted in public thread lists"
	fromLists     = "public lists of bicycle thread sizes"
	fromGuides    = "public measuring guides for thru axles"
	fromChart     = "size from a public spacer chart, hand from memory"
	fromMemory    = "from memory"
	fromISO261    = "ISO 261, coarse pitch; public lists of bicycle thread sizes"
	fromASMEB11   = "ASME B1.1, as tabulated in public engineering tables"
	fromCycleList = "British Standard Cycle table, as quoted; public lists of bicycle thread sizes"
)

// knownThreads is the list behind [KnownThreads].
var knownThreads = []struct{ name, use, source string }{
	{"1.37 in x 24 tpi LH", "bottom bracket cup, drive side", fromISO6696},
	{"1.37 in x 24 tpi", "bottom bracket cup, other side; fixed sprocket on its hub", fromISO6696},
	{"36 mm x 24 tpi", "bottom bracket cup, both sides", fromLists},
	{"M35x1", "bottom bracket cup, legacy", fromLists},
	{"M35x1 LH", "bottom bracket cup, legacy, drive side", fromMemory},
	{"M47x1 LH", "bottom bracket cup, oversize, drive side", fromChart},
	{"M47x1", "bottom bracket cup, oversize, other side", fromChart},
	{"M48x1.5 LH", "bottom bracket cup, oversize, drive side", fromLists},
	{"1.375 in x 24 tpi", "screw-on freewheel and its hub", fromISO6698},
	{"1.29 in x 24 tpi LH", "lockring of a fixed sprocket", fromMemory},
	{"M30.6x1", "cassette lockring", fromMemory},
	{"9/16 in x 20 tpi", "pedal, right", fromDIN79012},
	{"9/16 in x 20 tpi LH", "pedal, left", fromDIN79012},
	{"1/2 in x 20 tpi", "pedal of a one-piece crank, right; 1/2-20 UNF", fromASMEB11},
	{"1/2 in x 20 tpi LH", "pedal of a one-piece crank, left", fromMemory},
	{"M14x1.25", "pedal, legacy, right", fromLists},
	{"M14x1.25 LH", "pedal, legacy, left", fromLists},
	{"1 in x 24 tpi", "threaded steerer", fromDIN79012},
	{"1-1/8 in x 26 tpi", "threaded steerer", fromMemory},
	{"M25x1", "threaded steerer, legacy", fromMemory},
	{"M9x1", "front axle", fromLists},
	{"M10x1", "rear axle; rear derailleur hanger", fromLists},
	{"3/8 in x 26 tpi", "rear axle", fromCycleList},
	{"3/8 in x 24 tpi", "rear axle of a back-pedal hub; 3/8-24 UNF", fromASMEB11},
	{"5/16 in x 24 tpi", "front axle; 5/16-24 UNF", fromLists},
	{"M8x1", "square-taper crank bolt", fromLists},
	{"M12x1", "splined crank bolt; thru axle", fromLists},
	{"M15x1", "splined crank bolt", fromMemory},
	{"M8x0.75", "chainring bolt; hydraulic hose nut", fromLists},
	{"M12x1.5", "thru axle", fromGuides},
	{"M12x1.75", "thru axle", fromGuides},
	{"M15x1.5", "thru axle", fromGuides},
	{"M4x0.7", "limit screw", fromLists},
	{"M4x0.75", "limit screw, older", fromLists},
	{"M5x0.8", "stem, seat clamp, rotor and bottle cage bolt", fromLists},
	{"M6x1", "brake mount, stem and seat bolt", fromLists},
	{"M8x1.25", "seatpost head bolt, crank stud", fromISO261},
	{"#10-32", "inch machine screw", fromASMEB11},
	{"1/4-20", "inch machine screw", fromASMEB11},
	{"M22x1", "crank puller in the arm", fromMemory},
}

// KnownThreads returns the threads in use on bicycles, as a list of the
// caller's own.
func KnownThreads() []Known {
	list := make([]Known, 0, len(knownThreads))
	for _, k := range knownThreads {
		if t, err := ParseThread(k.name); err == nil {
			list = append(list, Known{Thread: t, Use: k.use, Source: k.source})
		}
	}
	return list
}
