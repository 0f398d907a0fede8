// Package strip shows the memory as a chart strip of ruled paper.
package strip
