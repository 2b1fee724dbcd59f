package procedure

import "time"

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
		return time.Duration(max(0, to.MonotonicUS-from.MonotonicUS)) * time.Microsecond
	}
	return time.Duration(max(0, to.earliestUS()-from.ServerUS)) * time.Microsecond
}

func (m Moment) earliestUS() int64 {
	if m.OffsetUS == nil {
		return m.ServerUS
	}
	return min(m.ServerUS, m.TabletUS+*m.OffsetUS)
}
