// Package torque holds quantities of torque: values, units, figures as they
// were written, windows, and the markings on parts.
package torque
