package procedure

import (
	"math"
	"time"
)

// A Moment says when something happened, by every clock that saw it. Tablets
// lose their network and their clocks drift, so none of them is believed
// alone.
type Moment struct {
	// Tablet is the device, TabletSeq its own count of entries.
	Tablet    string `json:"tablet"`
	TabletSeq int64  `json:"tablet_seq"`
	// Boot names one run of the tablet's monotonic clock, MonotonicUS its
	// reading in microseconds.
	Boot        string `json:"boot"`
	MonotonicUS int64  `json:"monotonic_us"`
	// TabletUS and ServerUS are the wall clocks, microseconds since 1970 UTC.
	TabletUS int64 `json:"tablet_us"`
	ServerUS int64 `json:"server_us"`
	// OffsetUS is server time minus tablet time as last measured by the
	// tablet; nil means never measured.
	OffsetUS *int64 `json:"offset_us,omitempty"`
}

// clockSlackUS is how far ahead of the server a corrected tablet time may be
// before it is flagged: network delay explains less than this.
const clockSlackUS = 60 * 1_000_000

// Best returns the best estimate of the time: the tablet's, corrected by the
// measured offset and never later than the server received it; the server's
// when no offset is known.
func (m Moment) Best() time.Time {
	us := m.ServerUS
	if m.OffsetUS != nil {
		us = min(us, m.TabletUS+*m.OffsetUS)
	}
	return time.UnixMicro(us).UTC()
}

// ClockAhead reports that the tablet claims a time that had not come yet when
// the server received the entry. Such an entry is stored and flagged.
func (m Moment) ClockAhead() bool {
	claimed := m.TabletUS
	if m.OffsetUS != nil {
		claimed += *m.OffsetUS
	}
	return claimed > m.ServerUS+clockSlackUS
}

// leastElapsed returns a time that has certainly passed between two moments:
// the monotonic difference within one boot of one tablet, else the earliest
// the second can have been less the latest the first can have been. It is
// never negative.
func leastElapsed(from, to Moment) time.Duration {
	if from.Tablet == to.Tablet && from.Boot == to.Boot && from.Boot != "" {
		return microseconds(to.MonotonicUS - from.MonotonicUS)
	}
	return microseconds(to.earliestUS() - from.ServerUS)
}

// earliestUS is the earliest that the moment can have been. A tablet clock that
// was never compared with the server's is believed where it says less: the
// entry may have waited in the tablet for its network.
func (m Moment) earliestUS() int64 {
	switch {
	case m.OffsetUS != nil:
		return min(m.ServerUS, m.TabletUS+*m.OffsetUS)
	case m.TabletUS != 0:
		return min(m.ServerUS, m.TabletUS)
	}
	return m.ServerUS
}

// microseconds is a time that has passed: never negative, and no more than a
// Duration holds.
func microseconds(us int64) time.Duration {
	return time.Duration(min(max(0, us), math.MaxInt64/int64(time.Microsecond))) * time.Microsecond
}
