package sim

import (
	"fmt"
	"os"
	"testing"
)

func TestZZDump(t *testing.T) {
	for _, f := range []string{"standard"} {
	data, _ := os.ReadFile("../scenarios/bench/"+f+".json")
	list, err := ShowWear("x", data, nil)
	fmt.Println(err)
	for u := range list {
		fmt.Println("##", list[u].ID, list[u].Where, len(list[u].Shows))
		for _, x := range list[u].Shows[:min(4,len(list[u].Shows))] {
			fmt.Printf("   %-12s %-40s  %.5g %s -> %.5g %s %v %v\n", x.Stage, x.Test, x.Sound, x.SoundSeen, x.Worn, x.WornSeen, x.AnyTime, x.Alike)
		}
	}
	}
}
