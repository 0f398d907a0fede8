// Package instruments draws what the probes A and B measure.
package instruments
