package route

import (
	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// NodeKind is what meets at a node. The zero value is not a kind.
type NodeKind string

// The kinds of node, by the legs that meet there.
const (
	End     NodeKind = "end"     // one leg
	Through NodeKind = "through" // two legs that go straight on: a change of supply, a meeting point
	Turn    NodeKind = "bend"    // two legs that turn
	Tee     NodeKind = "tee"     // three legs
	Cross   NodeKind = "cross"   // four legs
	Branch  NodeKind = "branch"  // one leg that ends on another leg, which goes on unbroken
)

// Network is the run: nodes, and legs between two of them, in the order they were declared.
type Network struct {
	Nodes []Node
	Legs  []Leg
}

// Node is a place where legs meet or end.
type Node struct {
	ID   string
	At   Point // on the centrelines
	Kind NodeKind
	Arms []Arm // by bearing, clockwise from grid north

	// Straight pairs the arms that go straight on through a tee, a cross or a through node; the arm of a tee that is in no
	// pair is the branch.
	Straight []Pair
	// Bend is the turn of a node of kind Turn, else nil.
	Bend *Bend
	// On says where a node of kind Branch lies on the leg that goes on.
	On *OnLeg
}

// Pair is two arms of a node that go straight on.
type Pair struct {
	In, Out    int           // indices of Node.Arms; In is the one whose leg runs to the node, else the one declared first
	Deflection measure.Angle // what is left of a turn, followed from In to Out; right positive
}

// Arm is one leg as it leaves a node.
type Arm struct {
	Leg     int           // index of Network.Legs
	Away    bool          // its chainage runs away from the node
	Bearing measure.Angle // of the leg as it leaves the node, clockwise from grid north
	Next    measure.Angle // clockwise to the next arm; 360° for a single arm
}

// OnLeg is a place on a leg.
type OnLeg struct {
	Leg      int // index of Network.Legs
	Chainage measure.Length
	Right    bool          // the branch leaves to the right of the leg that goes on
	Angle    measure.Angle // from that leg's direction to the branch as it leaves, right positive
}

// Bend is the turn between two legs. In is the leg that is followed to the node and Out the one that is followed from it:
// by their chainages where these agree, else In is the one declared first.
type Bend struct {
	In, Out    int           // indices of Network.Legs
	Deflection measure.Angle // right positive, following In and then Out
	Tan        float64       // tan(|Deflection|/2)
}

// Right tells the hand of the bend.
func (b Bend) Right() bool { return b.Deflection > 0 }

// Corner is the bend's mitre for a width.
func (b Bend) Corner(width measure.Length) Corner { return Corner{b.Deflection, width} }

// Leg is what lies between two nodes, laid through without a break.
type Leg struct {
	ID       string
	From, To int  // indices of Network.Nodes; chainage runs from From to To
	Line     Line // the centreline
	Start    Face // at From
	End      Face // at To
}

// Face is how the axis of a leg ends at a node.
type Face struct {
	Kind NodeKind
	// Slope is s of the cut line x = a + s·y of a mitre (x up-chainage along the axis, y to its left): +tan α coming into a
	// right bend, -tan α leaving it, the other way round for a left bend. It is the same from whichever end the leg is
	// followed. 0 where the face is square.
	Slope float64
	// Deflection is the turn from this leg's axis to the next leg at a bend, followed through the node; right positive.
	Deflection measure.Angle
}

// Leg finds a leg by its id.
func (n Network) Leg(id string) (Leg, bool) {
	for _, l := range n.Legs {
		if l.ID == id {
			return l, true
		}
	}
	return Leg{}, false
}

// Node finds a node by its id.
func (n Network) Node(id string) (Node, bool) {
	for _, v := range n.Nodes {
		if v.ID == id {
			return v, true
		}
	}
	return Node{}, false
}

// Length is the length of all legs on the ground.
func (n Network) Length() measure.Length {
	var sum measure.Length
	for _, l := range n.Legs {
		sum += l.Line.Length()
	}
	return sum
}

// Input is what people declare of a run.
type Input struct {
	Nodes  []NodeInput
	Legs   []LegInput
	Drawn  Drawn         // which line the coordinates draw; the zero value: the centreline
	Scale  Scale         // the combined scale factor
	Smooth measure.Angle // a turn up to this is laid through; 0: the constant Smooth
	// Width is the outer width of the units, to see whether a mitre leaves anything of the legs beside it; 0: not looked at.
	Width  measure.Length
	Speech wording.Speech // how findings are worded
}

// NodeInput declares a node.
type NodeInput struct {
	ID string
	At Point // on the line that was drawn
	// OnLeg names the leg that this node lies on without ending it: a branch sawn into a wall. Usually empty.
	OnLeg string
}

// LegInput declares a leg from one node to another.
type LegInput struct {
	ID       string
	From, To string   // node ids; chainage runs from From to To
	Via      []Vertex // between the two nodes; each needs a radius unless the line goes straight on there
}

// Vertex is a corner of a polyline, with the radius of the arc that rounds it.
type Vertex struct {
	At     Point
	Radius float64 // grid metres, not negative; 0: none
}
