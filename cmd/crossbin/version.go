package main

import "runtime/debug"

// version tells which build this is: the module version, or the revision it was
// built from where the tool chain stamped one.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "crossbin, built without module information"
	}
	text := "crossbin " + info.Main.Version
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" && len(s.Value) >= 12 {
			text += " (" + s.Value[:12] + ")"
		}
	}
	return text
}
