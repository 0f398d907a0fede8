// Package scope measures a signal: levels, triggered traces, spectra.
//
//		samples -> Measure, Meter                    -> peak and RMS in dBFS
//		samples -> Sweep -> Trace, Plane, Keep       -> columns and points of a picture
//	               -> Persistence              -> hits of many pictures
//		samples -> Strip, Strength                   -> columns of what takes long
//		samples -> ReadCursors, Frequency, Cycle     -> numbers at cursors, one cycle
//		samples -> Spectrum -> Columns, ThirdOctaves -> lines and bands in dBFS
//		                    -> Peaks, NoiseFloor     -> readings
//
// Slices of numbers go in, numbers come out: it knows no patch, no screen and
// no sound device. Memory is the caller's; nothing here allocates for a frame
// once its workspace is made. Samples of 32 bits (taps) and 64 are taken as they
// come.
//
// Full scale is +-1.0. A sine's dBFS is its peak: a full-scale sine has a peak of
// 0 dBFS, a line of 0 dBFS in the spectrum, and an RMS of -3.01 dBFS, since an
// RMS of 1.0 is 0 dBFS.
//
// Between its samples a signal is taken to be band-limited, as it is when it is
// heard: a trace shows what the loudspeaker gets.
//
// Held by tests: windows have the gains of Harris 1978, spectra equal scipy's,
// levels and sidebands are those of theory, a steady tone stands still to a
// thousandth of a sample, and no number is NaN.
package scope
