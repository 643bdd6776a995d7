package hydraulic

import (
	"fmt"
	"math"

	"rinsewright/model/quantity"
)

// Network is what is to be solved. Nodes and links are told by their index.
type Network struct {
	Nodes []Node
	Links []Link
}

// Node is a point of the network.
type Node struct {
	Name      string          // for messages
	Elevation quantity.Length // of the point whose pressure is asked for
	Demand    quantity.Flow   // that leaves the network here; below zero it enters

	// Fixed says that the head is known: the node lies in a liquid that stands up
	// to Level under a gas of pressure Gas (gauge, as all pressures of the result).
	// An open outlet into air is a fixed node whose Level is the outlet's height.
	Fixed bool
	Level quantity.Length
	Gas   quantity.Pressure
}

// Link joins two nodes.
type Link struct {
	Name     string // for messages
	From, To int    // nodes, not the same
	Law      Law

	// OneWay lets flow pass From to To only. It then also opens by itself.
	OneWay bool
	// Shut lets nothing pass.
	Shut bool
	// Gain is a head that the flow gains on the way whatever it is: the part of a
	// loss that is known beforehand, such as a coefficient of a tee that is below
	// zero, or a column of a fluid of another density.
	Gain quantity.Length
}

// What lies beyond these bounds is no plant; it is refused, so that the
// arithmetic stays sound.
const (
	leastBore     = 1e-4 // m
	greatestBore  = 10   // m
	greatestRun   = 1e6  // m
	greatestHead  = 1e6  // m
	greatestFlow  = 1e3  // m³/s
	leastKv       = 1e-9 // m³/s at 1 bar
	greatestLossK = 1e9
)

// leastLoss is the resistance, m/(m³/s)², of a link that would have none.
const leastLoss = 1e-2

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

func within(v, low, high float64) bool { return v >= low && v <= high }

// check finds the first thing that is not as it must be, in words.
func (n *Network) check() error {
	for i := range n.Nodes {
		if err := n.checkNode(i); err != nil {
			return err
		}
	}
	for i := range n.Links {
		if err := n.checkLink(i); err != nil {
			return err
		}
	}
	return nil
}

func (n *Network) checkNode(i int) error {
	node := &n.Nodes[i]
	fault := func(format string, a ...any) error {
		return &InputError{"node " + n.nodeName(i), fmt.Sprintf(format, a...)}
	}
	if !within(float64(node.Elevation), -greatestHead, greatestHead) {
		return fault("elevation %v m", float64(node.Elevation))
	}
	if !within(float64(node.Demand), -greatestFlow, greatestFlow) {
		return fault("demand %v m³/s", float64(node.Demand))
	}
	if node.Fixed {
		if node.Demand != 0 {
			return fault("a fixed head takes what comes; it has no demand")
		}
		if !within(float64(node.Level), -greatestHead, greatestHead) {
			return fault("level %v m", float64(node.Level))
		}
		if !finite(float64(node.Gas)) {
			return fault("gas pressure %v Pa", float64(node.Gas))
		}
	}
	return nil
}

func (n *Network) checkLink(i int) error {
	link := &n.Links[i]
	fault := func(format string, a ...any) error {
		return &InputError{"link " + n.linkName(i), fmt.Sprintf(format, a...)}
	}
	if link.From < 0 || link.To < 0 || link.From >= len(n.Nodes) || link.To >= len(n.Nodes) {
		return fault("joins nodes %d and %d of %d", link.From, link.To, len(n.Nodes))
	}
	if link.From == link.To {
		return fault("joins node %s to itself", n.nodeName(link.From))
	}
	if !within(float64(link.Gain), -greatestHead, greatestHead) {
		return fault("gain %v m", float64(link.Gain))
	}
	if link.Law == nil {
		return fault("has no law")
	}
	if err := link.Law.check(); err != nil {
		return fault("%v", err)
	}
	return nil
}

// nodeName and linkName give the name, or the number of what has none.
func (n *Network) nodeName(i int) string {
	if n.Nodes[i].Name != "" {
		return n.Nodes[i].Name
	}
	return fmt.Sprintf("#%d", i)
}

func (n *Network) linkName(i int) string {
	if n.Links[i].Name != "" {
		return n.Links[i].Name
	}
	return fmt.Sprintf("#%d", i)
}
