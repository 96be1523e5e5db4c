package job

import (
	"slices"

	"trenchwright/base/measure"
)

// Delivery says how what is ordered comes to the run and where it is put down. Nothing of it has a default.
type Delivery struct {
	From     string                `json:"from,omitempty" ref:"document" example:"D5" jsonschema:"document id these figures come from unless one says otherwise"`
	Order    []DeliveryLeg         `json:"order,omitempty" jsonschema:"legs in the order in which they are laid, each from the node that its lay_from names; those left out come behind, in the order of the job"`
	Covers   string                `json:"covers,omitempty" oneof:"after|with" jsonschema:"after: covers come behind all units of their leg, also where left out; with: each beside its unit"`
	Ahead    Entry[measure.Length] `json:"ahead,omitzero" example:"60 m" jsonschema:"how much of the run a bundle may come before its turn, so that loads are filled; without it everything comes in laying order"`
	CutBy    Entry[string]         `json:"cut_by,omitzero" oneof:"supplier|site" jsonschema:"who saws and bores what is not plain: the supplier, and it comes by its mark, or site, and whole units come"`
	Lift     Entry[measure.Mass]   `json:"lift,omitzero" in:"(0,)" example:"3200 kg" jsonschema:"what the plant on site may lift at the reach of offloading, tackle taken off"`
	OnSite   Entry[int]            `json:"loads_on_site,omitzero" in:"[1,)" example:"3" jsonschema:"how many loads lie on site before what they brought is laid; without it all of them"`
	Terms    []DeliveryTerms       `json:"terms,omitempty" jsonschema:"what each supplier asks of an order"`
	Vehicles []DeliveryVehicle     `json:"vehicles,omitempty" jsonschema:"what brings it, each as its papers have it"`
	Laydown  []Laydown             `json:"laydown,omitempty" jsonschema:"where things are put down beside the run"`
}

// DeliveryLeg is one leg in the order in which they are laid; it counts where it stands first.
type DeliveryLeg struct {
	Leg string `json:"leg" ref:"leg" example:"A" jsonschema:"the leg"`
}

// DeliveryTerms is what one supplier asks of an order.
type DeliveryTerms struct {
	Supply string        `json:"supply" ref:"supply" example:"trough" jsonschema:"the supply"`
	Change Entry[int]    `json:"change_days,omitzero" in:"[0,)" example:"21" jsonschema:"days before the first load until which a special piece may still be changed, counted by the calendar"`
	First  Entry[string] `json:"first_load,omitzero" rule:"date" example:"2026-05-04" jsonschema:"when the first load is to be on site, YYYY-MM-DD"`
}

// DeliveryVehicle is one kind of vehicle that brings loads.
type DeliveryVehicle struct {
	ID      string                `json:"id" rule:"id" example:"V1" jsonschema:"name of the vehicle"`
	Title   string                `json:"title,omitempty" example:"lorry with trailer" jsonschema:"what people call it"`
	From    string                `json:"from,omitempty" ref:"document" example:"D5" jsonschema:"document id its figures come from unless one says otherwise"`
	Payload Entry[measure.Mass]   `json:"payload,omitzero" in:"(0,500000000)" example:"24 t" jsonschema:"what it may bring"`
	Length  Entry[measure.Length] `json:"deck_length,omitzero" in:"(0,)" example:"13600 mm" jsonschema:"of its deck"`
	Width   Entry[measure.Length] `json:"deck_width,omitzero" in:"(0,)" example:"2450 mm" jsonschema:"of its deck"`
	Height  Entry[measure.Length] `json:"deck_height,omitzero" in:"(0,)" example:"2600 mm" jsonschema:"how high the load may stand above its deck"`
	Axles   *DeliveryAxles        `json:"axles,omitempty" jsonschema:"its axles as two groups, the load between and behind them"`
}

// DeliveryAxles are two groups of axles. Of a trailer on a tractor the first one is the kingpin.
type DeliveryAxles struct {
	Deck       Entry[measure.Length] `json:"deck_from,omitzero" in:"(,)" example:"1100 mm" jsonschema:"from the middle of the front group back to the front of the deck; below 0 where the deck begins before it"`
	Apart      Entry[measure.Length] `json:"apart,omitzero" in:"(0,)" example:"5300 mm" jsonschema:"from the middle of the front group to the middle of the rear one"`
	FrontEmpty Entry[measure.Mass]   `json:"front_empty,omitzero" example:"5600 kg" jsonschema:"what the front group bears without a load"`
	FrontLimit Entry[measure.Mass]   `json:"front_limit,omitzero" in:"(0,500000000)" example:"8000 kg" jsonschema:"what it may bear"`
	RearEmpty  Entry[measure.Mass]   `json:"rear_empty,omitzero" example:"4900 kg" jsonschema:"what the rear group bears without a load"`
	RearLimit  Entry[measure.Mass]   `json:"rear_limit,omitzero" in:"(0,500000000)" example:"19 t" jsonschema:"what it may bear"`
}

// Laydown is one place where things are put down beside a leg.
type Laydown struct {
	ID       string                `json:"id" rule:"id" example:"L1" jsonschema:"name of the place"`
	Name     string                `json:"name,omitempty" example:"hardstanding at the gate" jsonschema:"what people call it"`
	Leg      string                `json:"leg" ref:"leg" example:"A" jsonschema:"leg that it is beside"`
	At       measure.Length        `json:"at" in:"(,)" example:"20 m" jsonschema:"chainage of its middle on that leg"`
	Long     measure.Length        `json:"long" in:"(0,)" example:"18 m" jsonschema:"how long it is along the leg, half of it to each side of its middle"`
	Side     string                `json:"side" oneof:"left|right" jsonschema:"left or right, looking along the leg"`
	Edge     Entry[measure.Length] `json:"edge,omitzero" example:"1500 mm" jsonschema:"from the edge of the dig to what is put down"`
	Wide     Entry[measure.Length] `json:"wide,omitzero" in:"(0,)" example:"4 m" jsonschema:"how wide the place is, square to the leg"`
	Bears    Entry[measure.Mass]   `json:"bears,omitzero" in:"(0,)" example:"30 t" jsonschema:"all that may lie there at once"`
	Supports Entry[int]            `json:"supports,omitzero" in:"[1,)" example:"24" jsonschema:"bearers that are laid out there: lines that bundles are set down on"`
	From     string                `json:"from,omitempty" ref:"document" example:"D5" jsonschema:"document id its figures come from unless one says otherwise"`
}

// BundleMake is how the supplier puts bundles together, and what may stand on what.
type BundleMake struct {
	Wide    Entry[int]            `json:"wide,omitzero" in:"[1,)" example:"2" jsonschema:"pieces side by side in one layer; the others lie in further layers on it"`
	Bearer  Entry[measure.Length] `json:"bearer,omitzero" example:"80 mm" jsonschema:"thickness of the bearers under each layer; 0 mm where there are none"`
	Bearers Entry[int]            `json:"bearers,omitzero" in:"[1,)" example:"2" jsonschema:"lines of bearers that a bundle is set down on"`
	Packing Entry[measure.Mass]   `json:"packing,omitzero" example:"20 kg" jsonschema:"mass of bearers, pallet and straps of one bundle"`
	High    Entry[int]            `json:"high,omitzero" in:"[1,)" example:"2" jsonschema:"bundles that may stand on one another, the lowest counted; 1: none on another"`
	On      []string              `json:"on,omitempty" oneof:"units|covers" example:"[units]" jsonschema:"what it may stand on of this supply: units, covers or both"`
}

// Asked tells whether the job says anything about deliveries.
func (d *Delivery) Asked() bool {
	return d.From != "" || len(d.Order) > 0 || d.Covers != "" || d.Ahead.Known || d.CutBy.Known || d.Lift.Known || d.OnSite.Known || len(d.Terms)+len(d.Vehicles)+len(d.Laydown) > 0
}

// Ends are the chainages where l starts and ends.
func (l *Laydown) Ends() (from, to measure.Length) { return l.At - l.Long/2, l.At - l.Long/2 + l.Long }

// Sequence is all legs of the job in the order in which they are laid.
func (j *Job) Sequence() []string {
	var out []string
	for _, d := range j.Delivery.Order {
		if !slices.Contains(out, d.Leg) {
			out = append(out, d.Leg)
		}
	}
	for _, l := range j.Route.Legs {
		if !slices.Contains(out, l.ID) {
			out = append(out, l.ID)
		}
	}
	return out
}
