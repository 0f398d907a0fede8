// Package recording reads and writes audio files as plain samples.
//
//	file -> Check -> Decode -> samples at the wanted rate
//	samples -> WriteWAV, EncodeFLAC -> file
//
// A file is somebody's property and nobody's promise: whatever length or count
// it claims is checked against the bytes that are there before a decoder sees
// it. +-1.0 is full scale. The package knows no patch, no screen and no sound
// device.
//
// Held by tests: samples equal those of two independent programs (sox and
// ffmpeg), no file makes it panic or allocate what a header merely claims, and
// what it writes carries the noise that theory says (Bennett 1948) and no more.
package recording
