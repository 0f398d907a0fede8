// Package app is everything with a screen or a loudspeaker.
//
//	desk     the one session value: the work on the bench and what is done with it
//	sound    the way to the loudspeaker
//	window   the page on the screen
//	command  the command line
//	demo     the demo job
//
// It is the only part that knows a toolkit or a sound device, and nothing but
// the program itself imports it. This package holds the test of the directions
// in which the code may look; it exports nothing.
package app
