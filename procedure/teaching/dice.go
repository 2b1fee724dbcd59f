package teaching

import "hash/fnv"

// A dice makes choices that depend on a seed and a name alone, so that one
// question more or less changes no other. The generator is SplitMix64 (Steele,
// Lea and Flood, "Fast splittable pseudorandom number generators", 2014).
type dice struct{ state uint64 }

// newDice mixes the seed with a hash of the name (FNV-1a, 64 bits).
func newDice(seed uint64, name string) *dice {
	h := fnv.New64a()
	h.Write([]byte(name)) // a hash never returns an error
	return &dice{state: seed ^ h.Sum64()}
}

// next returns the next 64 bits.
func (d *dice) next() uint64 {
	d.state += 0x9e3779b97f4a7c15
	z := d.state
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// below returns a number from 0 to n-1; n is at least 1. The bias of the
// remainder is below 2⁻⁵⁰ for the small n used here.
func (d *dice) below(n int) int { return int(d.next() % uint64(n)) }

// pick returns one of the values, which are not empty.
func pick[T any](d *dice, values ...T) T { return values[d.below(len(values))] }

// shuffle mixes a slice in place (Fisher and Yates).
func shuffle[T any](d *dice, values []T) {
	for i := len(values) - 1; i > 0; i-- {
		k := d.below(i + 1)
		values[i], values[k] = values[k], values[i]
	}
}
