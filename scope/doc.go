// Package scope measures a signal: levels, triggered traces, spectra.
//
//	samples -> Measure, Meter        -> peak and RMS in dBFS
//	samples -> Trigger -> Trace      -> columns of a picture
//	samples -> Spectrum -> Columns   -> lines in dBFS
//
// Slices of numbers go in, numbers come out: it knows no patch, no screen and
// no sound device. Memory is the caller's; nothing here allocates for a frame
// once its workspace is made.
//
// Full scale is +-1.0. A sine's dBFS is its peak: a full-scale sine has a peak of
// 0 dBFS, a line of 0 dBFS in the spectrum, and an RMS of -3.01 dBFS, since an
// RMS of 1.0 is 0 dBFS.
//
// Held by tests: windows have the gains of Harris 1978, spectra equal scipy's,
// levels and sidebands are those of theory, and no number is NaN.
package scope
