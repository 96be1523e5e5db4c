package planner

import "trenchwright/base/measure"

// Delivery is how what is ordered comes to the run. Masses are in kilograms.
type Delivery struct {
	Legs     []string          `json:"legs"`            // in the order in which they are laid
	Items    []DeliveryItem    `json:"items"`           // plain ones by their type, special ones by their mark
	Bundles  []DeliveryBundle  `json:"bundles"`         // in the order in which they come
	Loads    []DeliveryLoad    `json:"loads"`           // likewise
	Least    int               `json:"loads_at_least"`  // proven: nothing brings all of it with fewer, in whatever order; 0: no loads
	LeastBy  string            `json:"at_least_by"`     // mass or deck: what that many are needed for
	Nearer   float64           `json:"loads_that_fill"` // what the pieces come to of such loads, before it is rounded up
	Mass     float64           `json:"mass_kg"`         // of all loads
	Ahead    measure.MM        `json:"ahead_mm"`        // of the run that a bundle may come before its turn
	Lift     string            `json:"lift_source"`     // document of what the plant on site may lift; empty: no such figure on file
	Placed   bool              `json:"placed"`          // bundles have places on decks: every size is on file
	Vehicles []DeliveryVehicle `json:"vehicles"`
	Laydown  []DeliveryPlace   `json:"laydown"`
	Nowhere  []string          `json:"nowhere"`    // bundles for which there is no room at any place
	Left     []DeliveryLeft    `json:"on_no_load"` // what is ordered and on no load, and why
}

// DeliveryItem is what is ordered of one type, or one special piece.
type DeliveryItem struct {
	Item    string      `json:"item"`
	Supply  string      `json:"supply"`
	Kind    string      `json:"kind"`              // unit, cover, fitting, loose part
	Mark    string      `json:"mark,omitempty"`    // of a special piece
	Special string      `json:"special,omitempty"` // what makes it one: cut, mitred, with an entry, cast
	Leg     string      `json:"leg,omitempty"`
	Length  *measure.MM `json:"length_mm"`
	Count   int         `json:"count"`                  // of loose parts by the metre or by mass: 0, see order
	Order   string      `json:"order"`                  // the same with its unit
	Spares  int         `json:"spares"`                 // of them, with what fills the last pack
	Mass    *float64    `json:"mass_kg"`                // of one; null: not on file
	Packs   string      `json:"packs,omitempty"`        // in which it comes: 12 of 2
	Change  string      `json:"change_until,omitempty"` // of a special piece: the last day for a change, or NOT CHECKED: …
}

// DeliveryBundle is what is lifted at once.
type DeliveryBundle struct {
	Name    string         `json:"name"`
	Item    string         `json:"item"`
	Mark    string         `json:"mark,omitempty"` // of a special piece
	Supply  string         `json:"supply"`
	Pieces  []string       `json:"pieces"` // places they are meant for, of plain ones any of their kind; spare
	Count   int            `json:"count"`
	Size    [3]measure.MM  `json:"size_mm"` // length, width, height; 0: not on file
	Mass    float64        `json:"mass_kg"`
	Load    int            `json:"load"`    // 0: on none
	Places  *[3]measure.MM `json:"at_mm"`   // on the deck: from its front, from its left side, above it; null: not placed
	Laydown string         `json:"laydown"` // where it is put down; "": nowhere on file
	Lift    string         `json:"lift"`    // verdict on what the plant may lift, or NOT CHECKED: …
}

// DeliveryLoad is one vehicle.
type DeliveryLoad struct {
	Number  int         `json:"number"`
	Vehicle string      `json:"vehicle"`
	Bundles []string    `json:"bundles"`
	Pieces  int         `json:"pieces"`
	First   string      `json:"first"` // what of it is laid first, and last
	Last    string      `json:"last"`
	Mass    float64     `json:"mass_kg"`
	Payload float64     `json:"payload_kg"`
	Deck    *measure.MM `json:"deck_mm"` // taken up of its length; null: not placed
	DeckOf  *measure.MM `json:"deck_of_mm"`
	Axles   *[2]float64 `json:"axles_kg"`    // what front and rear group bear; null: not on file
	AxlesOf *[2]float64 `json:"axles_of_kg"` // what they may
}

// DeliveryVehicle is a vehicle with where its figures come from.
type DeliveryVehicle struct {
	ID     string `json:"id"`
	Title  string `json:"title,omitempty"`
	Source string `json:"source"`
}

// DeliveryPlace is one laydown place with what lies there at most.
type DeliveryPlace struct {
	ID      string     `json:"id"`
	Name    string     `json:"name,omitempty"`
	Leg     string     `json:"leg"`
	Start   measure.MM `json:"start_mm"` // chainage
	End     measure.MM `json:"end_mm"`
	Side    string     `json:"side"`
	Bundles []string   `json:"bundles"` // all that are put down there
	Most    int        `json:"most"`    // of them at once
	Holds   []Held     `json:"holds"`   // mass, room, bearers, distance from the edge
	Source  string     `json:"source"`
}

// Held is a value beside its limit.
type Held struct {
	What    string `json:"what"`
	Value   string `json:"value"`
	Limit   string `json:"limit"`
	Verdict string `json:"verdict"` // one of the three, or NOT CHECKED: …
}

// DeliveryLeft is what no load brings.
type DeliveryLeft struct {
	Item string `json:"item"`
	Mark string `json:"mark,omitempty"`
	Why  string `json:"why"`
}
