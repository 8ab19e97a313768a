//go:build js

package panel

import (
	"slices"
	"strings"

	"brinebench/game/say"
)

// also are other words of the trade and of the street by which people look for a test or
// a cause.
func also(id string) string {
	begins := func(with ...string) bool {
		return slices.ContainsFunc(with, func(w string) bool { return strings.HasPrefix(id, w) })
	}
	switch {
	case begins("pressure-"):
		return say.Text("also.pressure")
	case begins("hardness-"):
		return say.Text("also.hardness")
	case begins("conductivity-", "drain-conductivity"):
		return say.Text("also.conductivity")
	case begins("house-flow", "drain-flow", "drain-control-", "refill-"):
		return say.Text("also.flow")
	case begins("brine-draw"):
		return say.Text("also.flow") + " " + say.Text("also.injector")
	case begins("motor-", "drive-", "gear-"):
		return say.Text("also.drive")
	case begins("nozzle-", "throat-", "injector-", "screen-", "line-look"):
		return say.Text("also.injector")
	case begins("float-", "tank-seep"):
		return say.Text("also.float")
	case begins("salt-bridge", "salt-mushed", "salt-probe"):
		return say.Text("also.bridge")
	case begins("resin-", "bed-"):
		return say.Text("also.resin")
	case begins("feed-iron"):
		return say.Text("also.iron")
	case begins("clock-", "days-"):
		return say.Text("also.clock")
	case begins("house-leak", "flow-idle"):
		return say.Text("also.leak")
	}
	return ""
}
