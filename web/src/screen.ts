// Written by go test ./view/screen -update from the types of packages view/screen and job/edit. Not to be edited.

// View is how texts are shown. It never changes a number of record.
export interface View {
  system: string; // metric or imperial
  words: string; // uk or us
}

// JobHead is whose job this is.
export interface JobHead {
  id: string;
  name: string;
  owner: string;
  revision: string;
  system: string; // metric or imperial, as these texts are
  words: string; // uk or us, likewise
  own: View; // what the job itself says of both
  said: string; // the run in one line: 4 legs, 163 units, 2 cut
}

// Words are the trade's words of this view, in small letters.
export interface Words {
  unit: string;
  units: string;
  closer: string;
  mitre: string;
  mitred: string;
  chainage: string;
  up_chainage: string;
  pad: string;
  pads: string;
  end_plate: string;
  transition: string;
  service: string;
  services: string;
  centreline: string;
  set_out: string;
  formation: string;
  bed: string;
  layer: string;
  layers: string;
  rod_reading: string;
  instrument: string;
  benchmark: string;
  levelling: string;
  length_unit: string; // that a bare number is taken in: mm or in
  coord_unit: string; // of eastings, northings and levels: m, ft, US survey ft
  level_places: number; // decimals that levels are shown with
}

// Axis says how the axis of chainage is divided.
export interface Axis {
  unit: string; // m or ft
  unit_mm: number; // one of it
  major: number; // of it: a full station, 100 ft or 100 m
}

// Supply is what a drawing needs of a supply; null: not on file.
export interface Supply {
  id: string;
  title: string;
  outer_width_mm: number | null;
  outer_height_mm: number | null;
  inner_width_mm: number | null;
  inner_height_mm: number | null;
  cover_width_mm: number | null;
  cover_thickness_mm: number | null;
  pad_along_mm: number | null;
  pad_across_mm: number | null;
  pad_thick_mm: number | null;
  on_pads: boolean;
  drawn_width_mm: number; // that outlines in plan have: the outer one, or a made-up one where that is not on file
}

// Leg is a leg on the strip.
export interface Leg {
  key: string; // leg/A: what a card is asked for by
  id: string;
  from: number; // strip
  to: number; // strip
  follows: boolean; // it goes on where the leg before it ends
  start: string; // node
  end: string; // node
  first: number; // of units
  units: number; // how many
  from_end: boolean; // laid from its to node
  supply: string;
  verdict: string; // found, impossible, undecided
  said: string; // one line: 24 units, 1 cut, 51.300 m
  why: string; // where it is not found, or what the choice rests on
  try: string[];
}

// Units are all units, by strip position; one entry of every column for each.
export interface Units {
  mark: string[]; // A-017; its card is unit/A-017
  leg: number[]; // of Screen.Legs
  from: number[]; // strip
  to: number[];
  supply: number[]; // of Screen.Supplies
  flags: number[]; // sum of: 1 cut, 2 on hold, 4 mitred at its start, 8 mitred at its end, 16 laid because something asks for its supply, 32 a finding
}

// Covers are all covers, by strip position. A cover's name is its unit's mark and its number.
export interface Covers {
  unit: number[]; // of Units
  number: number[]; // on its unit, from 1
  from: number[]; // strip
  to: number[];
  flags: number[]; // sum of: 1 cut, 4 mitred at its start, 8 mitred at its end
}

// Joints are all joints between two units, by strip position. A joint's name is that of both.
export interface Joints {
  before: number[]; // of Units: the unit before it; the one behind is the next
  at: number[]; // strip, its middle
  gap_mm: number[];
  left_mm: number[]; // what its budget leaves
  flags: number[]; // sum of: 1 a pad lies under it, 2 the job asks for it, 4 its budget is overspent, 8 change of grade, 16 step
}

// Zone is a stretch where no joint may stand, or no cut piece may lie.
export interface Zone {
  key: string; // of the thing that it comes from
  leg: number;
  from: number;
  to: number;
  kind: string; // crossing, entry, service, support, zone, tee
  joint: boolean;
  cut: boolean; // no cut unit or cover may lie in it
  label: string;
}

// Thing is what somebody declared along a leg.
export interface Thing {
  key: string; // crossing/A/X1
  id: string;
  leg: number;
  at: number; // strip
  from: number; // strip: as wide as it is itself
  to: number;
  side: string; // of an entry: left, right, floor
  skew_deg: number; // between the run and what crosses
  label: string; // its name and what is said of it, in one line
}

// Node is where legs end or meet.
export interface Node {
  key: string; // node/N2
  id: string;
  kind: string; // end, bend, tee, cross, transition
  made: string; // mitred, casting, sawn, end plate, building, temporary, existing, open
  strip: number[]; // every place of it there
  legs: number[];
  at_m: [number, number]; // plan
  hand: string; // left or right: which way the run turns; empty: it does not
  turn_deg: number;
  angle: string; // 45.000°, in words
  label: string;
  moves: boolean; // it has coordinates of its own, and can be dragged
}

// Finding is one thing that the program has to say.
export interface Finding {
  name: string; // №3: its number in the plan
  id: string;
  kind: string; // fault, impossible, attention, not checked, assumed, note
  text: string;
  leg: number; // -1: none
  at: number | null; // strip; null: it speaks of no place on it
  key: string; // of the thing that it speaks of, if that is one
  path: string;
  where: string; // in words: leg B, chainage 24.072 m; empty: nowhere on the run
  limit: string;
  value: string;
  rule: string;
  ask: string;
  try: string;
  stage: string;
}

// SectionLine is one line of a leg from its side: as many levels as its stations are, null where it is not known.
export interface SectionLine {
  of: string; // existing, finished, rock, water, cover, wall, invert, underside, pad, formation, under_pad, drain
  leg: number;
  stations: number; // of Section.Stations
  levels_m: (number | null)[];
}

// SectionGrade is a stretch on one grade.
export interface SectionGrade {
  of: string; // run or drain
  leg: number;
  from: number;
  to: number;
  label: string; // falls 0.55 % ↘
}

// SectionThing is something with a level at one place.
export interface SectionThing {
  key: string;
  id: string;
  leg: number;
  at: number;
  from: number;
  to: number;
  top_m: number | null; // null: no level of it on file
  bottom_m: number | null;
  of: string; // of a pin: cover, wall, invert; of an outlet: run, drain, both
  label: string;
}

// Section is the run from its side, on the strip's axis. Levels are metres above the height datum.
export interface Section {
  said: string; // why there is none, or what it lacks
  low_m: number;
  high_m: number;
  stations: number[][]; // strip positions that lines share
  lines: SectionLine[];
  grades: SectionGrade[];
  services: SectionThing[];
  pins: SectionThing[];
  outlets: SectionThing[];
}

// Curve is an arc of a leg with a stated radius, as a hand drags it: on it, or where it begins and ends. How far each of the three
// lies from the corner goes with the radius; it is told of one of reach, so that it does not suffer from being written short.
export interface Curve {
  key: string; // curve/F/1
  name: string; // curve 1 of leg F
  label: string; // its radius, as texts have it
  path: string; // of the radius in the job
  radius_m: number; // on the ground
  corner_m: [number, number];
  begin_m: [number, number]; // from the corner to where it would begin with a radius of 1,000 km
  middle_m: [number, number]; // likewise to its middle
  end_m: [number, number]; // and to its end
  strip: [number, number, number]; // where it begins, its middle, its end
  hand: string; // left or right: which way it turns
  turn_deg: number;
}

// PlanLeg is the centreline of a leg, straight between points that leave its curves by 5 mm at most.
export interface PlanLeg {
  strip: number[]; // of each point
  line_m: number[]; // easting and northing of each point
  curves: Curve[]; // that it has a stated radius of
}

// PlanLine is something that crosses the run or stands beside it.
export interface PlanLine {
  key: string;
  kind: string; // zone, service, crossing, support, forced, entry
  name: string; // what people call it
  line_m: number[]; // easting and northing of each point
  closed: boolean;
}

// Contour is all there is of one level.
export interface Contour {
  level_m: number;
  label: string;
  major: boolean; // every fifth
  lines_m: number[][];
}

// Plan is the run from above. Positions are metres east and north of Origin.
export interface Plan {
  origin_m: [number, number]; // easting and northing of 0, 0
  extent_m: [number, number, number, number]; // west, south, east, north of the run
  legs: PlanLeg[]; // one for each of Screen.Legs
  corners_m: number[]; // eight for each unit: left start, left end, right end, right start
  lines: PlanLine[]; // zones, services, crossings, supports, joints asked for, entries where they lie
  contours: Contour[]; // of the ground as it is
  interval: string; // between two contours, in words; empty: no survey on file
}

// Stage is one of the nine, with how much of it is known.
export interface Stage {
  id: string; // route, order, dig, bed, set, fill, cables, cover, handover
  name: string;
  said: string; // fixed, 14 of 30, nothing recorded yet
  done: number; // of Of; both 0 where nothing is counted
  of: number;
  open: number; // findings of this stage that ask something
  tables: string[]; // names of the tables that belong to it
}

// TableHead names a table that can be asked for.
export interface TableHead {
  name: string;
  title: string;
  rows: number;
}

// Sheet is a file of the pack.
export interface Sheet {
  name: string;
  about: string;
  stage: string; // where it is looked for first
  server: boolean; // only the server can write it
  kind: string; // of papers that are made from the records where there are any; empty: of the plan alone
}

// Screen is an opened job with its plan, drawn nowhere yet.
export interface Screen {
  core: string; // version of the planning core
  hash: string; // of the job: every later question names it
  job: JobHead;
  words: Words; // the trade's words where the two sides of the ocean differ
  length_mm: number; // of the strip
  axis: Axis;
  supplies: Supply[];
  legs: Leg[]; // in walking order
  units: Units;
  covers: Covers;
  joints: Joints;
  zones: Zone[];
  crossings: Thing[];
  services: Thing[];
  entries: Thing[];
  supports: Thing[];
  forced: Thing[]; // joints that the job asks for
  nodes: Node[];
  findings: Finding[];
  open: string[]; // how much stands open: 0 impossible, 41 for attention, …
  section: Section;
  plan: Plan;
  stages: Stage[];
  tables: TableHead[];
  sheets: Sheet[]; // files of the pack
}

// Redrawn is one leg as it is laid now: its columns hold this leg alone, its strip positions are those of Sketch.Legs.
export interface Redrawn {
  leg: number;
  units: Units;
  zones: Zone[];
  line: PlanLeg;
  corners_m: number[];
}

// Sketch is what changed while something was dragged: legs that had to be laid anew. No levels, no cutting, no dig; places in
// plan are relative to the origin of the opened screen.
export interface Sketch {
  hash: string; // of the opened job
  length_mm: number;
  legs: Leg[]; // all, in walking order, with their new places on the strip
  touched: Redrawn[];
  nodes: Node[];
  extent_m: [number, number, number, number];
  faults: Finding[]; // then there is nothing else: the last sketch stands
  said: string; // the run in one line
  told: string[]; // what the edits were understood as
  place_m: [number, number] | null; // where what was dragged came to lie, if it was drawn to something
  drawn: string; // to what: point, straight, right angle, grid, step; empty: to nothing
  drawn_to: string; // the same in words: square to leg B
  guide_m: [number, number] | null; // where the leg ends that it is straight on from, or square to
  radius_m: number | null; // likewise of a dragged radius
}

// CardRow is one figure.
export interface CardRow {
  label: string;
  text: string;
  other: string; // the same in the other system; empty: it has none
  source: string; // document, where it is a figure that somebody entered
  open: boolean; // NOT CHECKED: nobody entered it
  key: string; // card of what it names
}

// CardGroup is rows under one heading.
export interface CardGroup {
  name: string;
  rows: CardRow[];
}

// FigureLine is one line or one area.
export interface FigureLine {
  of: string; // what it is: unit, cover, joint, zone, existing, rock, bed, …
  points: number[]; // x and y of each
  closed: boolean;
  area: boolean; // to be filled with its hatch
}

// FigureLabel is a text beside a point.
export interface FigureLabel {
  at: [number, number];
  text: string;
  of: string;
}

// Figure is something drawn to scale, in millimetres, up and to the right positive.
export interface Figure {
  box: [number, number, number, number]; // left, bottom, right, top
  lines: FigureLine[];
  labels: FigureLabel[];
  notes: string[];
}

// Field is one field of a new thing, as typed. A field of a group in it has dots: end.kind.
export interface Field {
  name: string;
  text: string;
}

export interface Lying {
  from: string;
  to?: string;
  end?: string;
}

export interface Course {
  from: string;
  to?: string;
  supply?: string;
  length: string;
  stock?: string;
  start: string;
  pitch?: string;
  hold?: boolean;
  of?: string;
  with?: string[];
}

export interface Held {
  to: string;
  grade?: string;
}

export interface Bedded {
  from: string;
  to?: string;
  at: string[];
  tops: string[];
}

export interface Built {
  to?: string;
  beyond?: Lying[];
  courses: Course[];
  grades?: Held[];
  bedded?: Bedded[];
  counted?: string[];
  withdrawn?: string[];
}

export interface Service {
  id: string;
  name: string;
  at: string;
  width: string;
  clear: string;
  skew?: string;
  depth?: string;
  level?: number;
  quality?: string;
}

// Edit is one change. Fields that its Op does not need are left empty.
export interface Edit {
  op: "move-node" | "insert-bend" | "remove-bend" | "draw" | "extend" | "branch" | "remove-leg" | "add" | "move" | "remove" | "set" | "clear" | "rename" | "take";
  kind?: string; // crossing, service, entry, support, zone, joint, pin, outlet
  id?: string; // of the thing; of a new one: the id that it gets, or empty for the next free one
  leg?: string;
  to_leg?: string;
  node?: string;
  at?: string; // chainage on the leg, typed
  at_mm?: number; // the same, dragged: strip position less that of the leg's start
  place_m?: [number, number]; // dragged: metres from Origin, as Screen.Plan has them
  places_m?: [number, number][]; // drawn, likewise
  origin_m?: [number, number]; // Screen.Plan's
  level_m?: number; // dragged: metres above the height datum
  radius_m?: number; // dragged: metres on the ground, kept to the millimetre
  path?: string; // of a field: route.legs[A].crossings[X1].width; by ids, or by numbers from 0
  text?: string; // typed
  from?: string; // document id that a figure comes from
  page?: string;
  note?: string;
  assumed?: boolean; // nobody has a document for it: it is printed so wherever it goes
  fields?: Field[]; // of a new thing
  built?: Built; // of the answer that is taken
  services?: Service[]; // that were found on the leg
}

// Try is a change that would help, ready to be made.
export interface Try {
  said: string;
  edits: Edit[]; // empty: it has to be done by hand
}

// CardField is a field of the job that belongs to the thing.
export interface CardField {
  label: string; // what it is called
  word: string; // in the job's text
  path: string; // for an edit
  text: string; // as it stands in the job; empty: nobody entered it
  kind: string; // length, chainage, angle, grade, mass, window, section, level, place, number, yes, choice, text, lengths, texts
  choice: string[];
  about: string;
  like: string; // an example
  bare: string; // what a number without a unit is taken in; empty: it has none
  figure: boolean; // it has a source
  from: string; // document id
  page: string;
  source: string; // the document in words, who entered it and when
  assumed: boolean;
  ask: string; // NOT CHECKED: no … on file. Ask: …; empty: it is entered, or nothing needs it
}

// Card is one thing on one small page. Lengths stand in both systems, the view's first.
export interface Card {
  key: string;
  kind: string; // unit, cover, joint, node, leg, curve, crossing, service, entry, support, zone, forced, pin, outlet, finding, check
  title: string;
  lead: string; // the one thing to know
  stop: string[]; // what has to be known before anything is done with it, in whole sentences
  paper: string; // its cut card among the papers; empty: it has none
  strip: [number, number];
  groups: CardGroup[];
  figure: Figure | null;
  proof: string[]; // what stands behind it
  sources: string[]; // documents
  findings: Finding[];
  tries: Try[];
  fields: CardField[]; // what can be typed here
}

// TableColumn is one column with all of its cells.
export interface TableColumn {
  key: string;
  head: string; // with its unit
  numeric: boolean;
  texts: string[];
  sort: (number | null)[]; // of a numeric column: one figure a row, null where there is none
}

// Table is a table with rows that are ready to be shown, and figures that it can be sorted by.
export interface Table {
  name: string;
  title: string;
  notes: string[];
  columns: TableColumn[];
  rows: number;
  keys: string[]; // of each row: the card that belongs to it; empty: none
}

// Edited is a job after edits, or why it is not.
export interface Edited {
  job: string; // canonical JSON; empty: nothing was changed, see Faults
  hash: string;
  faults: Finding[];
  said: string[]; // what was understood
  keys: string[]; // what was made or changed
}

// Change is one place that is not what it was.
export interface Change {
  kind: string; // new, gone, changed, moved
  of: string; // unit, cover, leg, node, bill, finding, note
  key: string;
  name: string;
  where: string; // of a finding: where it is found, in words
  about: string; // of a finding with another figure: what it says
  leg: number;
  from: number; // strip of the plan as it is now; of what is gone: where it was
  to: number;
  was: string;
  now: string;
}

// Difference is what changed against an earlier plan.
export interface Difference {
  same: boolean;
  said: string[]; // one line for each kind of change
  places: Change[];
}

// Refigured is a finding that stands as before, with another figure.
export interface Refigured {
  was: Finding;
  now: Finding;
}

// Fresh is how what was found differs from what was found before a change. Notes and assumptions ask nothing of anybody and are
// not among it.
export interface Fresh {
  said: string; // 2 findings are new, 1 finding is gone; empty: nothing differs
  new: Finding[]; // the gravest first
  gone: Finding[]; // as they were said then
  changed: Refigured[]; // that stand as before, with another figure
}

// Across is the trench cut across at one place, looking up-chainage: x to the right, y the level, in millimetres above the
// height datum less Level.
export interface Across {
  title: string;
  strip: number;
  level_mm: number; // that y counts from
  figure: Figure;
  groups: CardGroup[];
}

// Between is what lies between two places, ready to be read and printed.
export interface Between {
  title: string;
  way: [number, number][]; // stretches of the strip, each from its lower end
  groups: CardGroup[];
  findings: Finding[];
}

// Ticks are marks on the axis of chainage with their figures.
export interface Ticks {
  at: number[]; // strip
  texts: string[];
}

// AlongKind is a word with its hatch, for the legend.
export interface AlongKind {
  name: string;
  hatch: string; // paper, stone, solid, rising, falling, crossed, dots, upright, level
  of: string; // unit, cover, row, place
  count: number; // how many of them the run has
}

// Stretches are stretches of the strip, by position.
export interface Stretches {
  from: number[];
  to: number[];
  kind: number[]; // of Kinds
  texts: string[];
}

// Places are places of the strip with a figure each.
export interface Places {
  at: number[];
  kind: number[];
  texts: string[];
  sizes_mm: (number | null)[]; // null: not known; a hanging line is broken there
}

// Stops are the places of a stage in walking order.
export interface Stops {
  at: number[];
  keys: string[]; // of the card
  names: string[];
}

// Along is what one stage shows along the run, beside what the strip shows always: a row under it, what each unit or cover is to
// the stage, and the places that the stage goes to one after another.
export interface Along {
  stage: string;
  said: string; // what is shown
  open: string; // what is not recorded or not on file; empty: nothing
  kinds: AlongKind[];
  units: number[]; // of Kinds, for each of Screen.Units; empty: as the strip shows them always
  covers: number[]; // likewise for each of Screen.Covers
  built: boolean; // units are what records say of them: they are filled as the work is, also where they are narrow
  row: Stretches;
  places: Places;
  shape: string; // how the sizes of places are drawn: hang, a line that hangs down; bar; empty: they have none
  stop: string; // what a stop is called: cut piece, joint
  stops: Stops;
}

// BigFigure is one figure with what it is of.
export interface BigFigure {
  label: string;
  text: string;
  other: string; // the same in the other system, or what else belongs to it
  open: boolean; // NOT CHECKED: nobody entered it
  long: boolean; // words rather than a figure
}

// Here is what counts for one stage where the peg stands: a few figures, to be written large.
export interface Here {
  stage: string;
  key: string; // of the unit, joint or leg that it speaks of
  title: string; // what that is
  leg: string;
  strip: number; // where that place lies
  big: BigFigure[];
  stop: string[]; // what holds the work here, in whole sentences
  open: string[]; // what is not checked here, in whole sentences
}

// RodRow is the rod at one place.
export interface RodRow {
  key: string;
  place: string;
  strip: number;
  chainage: string;
  level: string;
  left: string; // reading on the line of the left wall
  right: string; // and of the right one; empty: as left
  before: string; // left, of the unit before, where it lies otherwise
  why: string; // why it cannot be read; else what else there is to know
}

// Rod is what a rod shows at every joint, from one height of the instrument.
export interface Rod {
  title: string;
  height: string; // of the instrument, in both systems
  rows: RodRow[];
  setups: string[]; // where the instrument has to stand, where one place does not serve all
  grades: RodRow[]; // one reading for all joints of a grade, for a laser on it
  not_checked: string[];
}

// SiteStage is how much of a stage is done.
export interface SiteStage {
  id: string;
  said: string; // 14 of 30 set
  done: number;
  of: number;
}

// SiteFinding is something odd about the records, or that holds work back.
export interface SiteFinding {
  kind: string;
  text: string;
  try: string;
  key: string; // card of what it concerns; empty: none
}

// SiteSaid is one record in words.
export interface SiteSaid {
  id: string;
  number: number;
  kind: string;
  words: string;
  person: string;
  made: string; // by its device's clock
  gone: boolean; // a later record took its place
  key: string;
  photos: number;
  with: string; // what it was read with, and where its device was
}

// Site is what the records of a job come to, in few words.
export interface Site {
  records: number;
  unread: string[]; // lines that are no record, each with why
  stages: SiteStage[]; // those that records say something of
  findings: SiteFinding[];
  log: SiteSaid[]; // the last records, the latest first
}

// NextLeg is a leg with how much of the stage is done on it.
export interface NextLeg {
  id: string;
  said: string;
  left: number; // how many places are left
}

// Ask is one reading that is wanted, with the record that makes it.
export interface Ask {
  form: string;
  place: string;
  name: string; // gap, invert level
}

// Next is the next thing to do on a leg, as a stage has it.
export interface Next {
  stage: string;
  leg: string;
  legs: NextLeg[];
  said: string; // next to set
  place: string; // empty: nothing is left here
  key: string;
  strip: number;
  form: string; // the record that this makes; empty: none
  deed: string; // Set, Lay, Fill
  what: string; // any 3000 mm, whole
  aside: string;
  figures: BigFigure[];
  stop: string[]; // what holds the work
  open: string[]; // what is not on file, and what to look at
  onward: string[];
  answers: boolean; // there are ways on from here that a person has to choose between
  layer: number; // of fill, the one that comes next; 0: none
  asks: Ask[]; // readings that the contract wants of what is set, and that nobody made yet
}

// FormField is one thing that is asked.
export interface FormField {
  name: string;
  label: string;
  kind: string; // length, off, reading, chainage, coordinate, angle, count, choice, some, text, moment, place, cover; line: left or right; level, rod: as it is
  choice: string[];
  first: string; // what it is unless somebody says otherwise
  must: boolean;
  more: boolean; // asked only of whoever unfolds it
}

// Form is what one record asks of whoever makes it: no more than it needs.
export interface Form {
  id: string;
  name: string; // on the button that opens it
  about: string; // one line; empty: the name says enough
  at: string; // where it is: units, a stretch of them; unit; joint; node; entry; chainage; empty: nowhere
  fields: FormField[];
  rows: FormField[]; // of a list that the record has; empty: it has none
  row: string; // what adds one
  each: string; // what one is called
  photo: boolean;
  seldom: boolean; // it is made in every stage, and seldom: it stands behind the others
}

// Echo is one thing as it was understood.
export interface Echo {
  name: string; // of the field; of a field of a row: 2.by
  text: string;
  fault: string; // why it cannot be read
}

// Heard is what somebody typed about the site, as it was understood. Nothing is kept by it.
export interface Heard {
  record: string; // as JSON, without who made it and when; empty: something is still missing
  words: string; // the record in one sentence
  echo: Echo[];
  missing: string[]; // what has to be said yet
  warn: string[]; // what is odd about it, and what it is held against: it is a fact all the same
  stop: string[]; // what holds the work from here on
  height: string; // of an instrument that was set up, as it would be typed; empty: none was
}

// YardRow is one kind of piece, or one piece with a mark.
export interface YardRow {
  piece: string; // as records of the yard name it
  size: string; // of a piece with a mark: its length, its ends and its hand; empty: its name says it
  have: string; // 12; NOT CHECKED where nobody recorded that any came
  count: number; // the same as a number; below 0: not known
  said: string; // 14 came, 2 damaged, 6 used
  counted: string; // when, by whom and how many; empty: nobody counted
  bought: string; // 33 on the bill, 19 of them did not come yet; empty: the bill has none
  want: number; // places that still take one
  short: number; // what the places take beyond what lies here
}

// Yard is what lies in the yard, against what the run still takes.
export interface Yard {
  said: string;
  rows: YardRow[]; // whole units, covers, pieces with a mark of their own
}

// SiteTurn is one place or joint that comes out otherwise.
export interface SiteTurn {
  place: string;
  key: string;
  said: string;
}

// SiteOffer is one way on.
export interface SiteOffer {
  number: number;
  name: string;
  spends: string[]; // what it costs: 2 cuts, 3 other pieces
  changes: SiteTurn[]; // place by place, against the plan that people hold
  same: boolean; // it is the plan as it stands: there is nothing to take
}

// SiteAnswer is what is left of one leg, planned again from where its last unit came to lie.
export interface SiteAnswer {
  leg: string;
  key: string;
  said: string; // 5 of 14 set: other pieces
  from: string; // where the last unit lies
  stop: string[];
  open: string[];
  offers: SiteOffer[]; // at most three; nothing changes until a person takes one
}

// SiteAnswers are the ways on of every leg on which work has begun.
export interface SiteAnswers {
  legs: SiteAnswer[];
  bends: SiteAnswer[]; // that were measured, and do not turn as drawn; leg is the node
}

// Taken is the job once a person took an answer: content for a new revision.
export interface Taken {
  job: string;
  note: string;
}

// GridOf is one thing whose level a card may have.
export interface GridOf {
  id: string;
  name: string;
}

// GridHead is the head of one box.
export interface GridHead {
  name: string; // off, left, right, level; of a whole card line, a to d (corners), covers as well
  label: string; // far end, ahead or behind
  unit: string; // that a bare number is taken in
}

// GridBox is what one box may be filled with.
export interface GridBox {
  shut: boolean; // there is nothing here to measure
  planned: string;
  has: string; // what is recorded already
}

// GridRow is one place with the joint at its far end.
export interface GridRow {
  place: string;
  joint: string; // empty: nothing follows
  key: string;
  strip: number;
  piece: string;
  boxes: GridBox[]; // one for each head
}

// Grid is where the office keys in what came back on a day card: one row a place, in laying order, with what was planned and what is
// recorded already beside the boxes.
export interface Grid {
  leg: string;
  legs: NextLeg[];
  from: string; // the first place shown
  on: string; // the first place behind those shown; empty: the leg ends here
  back: string; // where those before them begin; empty: the leg begins here
  of: string; // what levels are of
  whole: boolean; // every box of a card has its own here
  levels: GridOf[];
  heads: GridHead[]; // of the boxes
  rows: GridRow[];
  open: string[]; // what nobody can hold these readings against
}

// KeyedRow is one row of it.
export interface KeyedRow {
  place: string;
  echo: Echo[]; // by the names of the boxes
  words: string; // the row as it was understood
  odd: string[]; // what to look at: it is kept all the same
  missing: string; // why it cannot be kept yet
  records: string[]; // as JSON, without who made them and when
}

// Keyed is a day card as it was keyed in and understood. Nothing is kept by it.
export interface Keyed {
  head: Echo[]; // of what stands on top of the card
  made: string; // when the card says that it was written, without its zone; empty: not said yet
  rows: KeyedRow[];
  said: string; // what would be kept: 28 places, 83 records; 2 are odd
  full: boolean; // it can be kept as it stands
  records: string[]; // of the card as a whole, as JSON, without who made them and when
}

// OfficeStep is one step of it.
export interface OfficeStep {
  name: string;
  hatch: string; // as the strip has it
  done: number;
  long: string;
  next: string; // the first place, in laying order, at which it is not done; empty: none
}

// OfficeDone is how far the work is on one leg.
export interface OfficeDone {
  leg: string; // empty: the whole run
  key: string;
  units: number;
  long: string;
  steps: OfficeStep[]; // set, filled, covered, proven
}

// OfficeUsed is one kind of piece, or the stone of the bed: what the plan takes, what the bill orders, what came, what became of it.
export interface OfficeUsed {
  piece: string;
  planned: string;
  bought: string; // by the bill, with spares; empty: it has none
  came: string; // NOT CHECKED where nobody recorded that any came
  used: string;
  damaged: string;
  have: string;
  short: number; // what the rest of the run takes beyond that
}

// OfficeSum is one line of the month's measure.
export interface OfficeSum {
  name: string;
  count: string;
  long: string; // empty: it has no length
  where: string;
}

// OfficeRow is one line of such a list; it leads to its place on the strip.
export interface OfficeRow {
  place: string;
  key: string;
  said: string; // the verdict in a word or two
  text: string;
  by: string; // whose record it stands on, and when
  asks: boolean; // somebody has to do something about it
}

// OfficeList is what somebody has to look at, of one sort.
export interface OfficeList {
  id: string;
  name: string;
  about: string;
  none: string; // what is said where nothing is in it
  rows: OfficeRow[];
  open: string[]; // what is not on file for it
}

// Office is the site on one page, as the records have it: what is done against what is planned, what is used against what was
// bought, and what somebody has to look at, place by place.
export interface Office {
  records: number;
  done: OfficeDone[]; // of each leg in walking order, the whole run last
  stock: OfficeUsed[];
  untold: string[]; // of what nobody recorded that any came
  from: string; // what is measured between, as understood: days, or records at the server
  to: string;
  last: number; // the number that the server gave the last record that came from it; 0: none did
  fault: string; // why one of them cannot be read
  measure: OfficeSum[]; // what was done between them
  lists: OfficeList[];
}

// DayOf is a day with records.
export interface DayOf {
  date: string;
  records: number;
}

// DayLine is one line of it.
export interface DayLine {
  text: string;
  key: string; // its place; empty: it has none
  by: string;
}

// DayGroup is one part of the report.
export interface DayGroup {
  name: string;
  lines: DayLine[];
}

// Day is the daily report, written from what was recorded on a day.
export interface Day {
  date: string; // 2026-11-24
  said: string; // Tuesday, 24 November 2026
  days: DayOf[]; // that have records, the latest first
  people: string[];
  groups: DayGroup[];
  not: string; // what a daily report has and nobody recorded
  photos: string[];
}

// MomentField is one figure that a moment asks for.
export interface MomentField {
  name: string;
  label: string;
  like: string; // how it is written
  is: string; // what is known already; empty: nothing
  from: string; // who says so
  choice: string[]; // words to choose from; none: it is typed
  leave: boolean; // may be left out
}

// Moment is one of them.
export interface Moment {
  id: string;
  name: string;
  stage: string;
  first: string; // what is done before anything is worked out
  fields: MomentField[];
}

// Spot is what can be asked where somebody stands: the moments that stop a job, each with the figures that it wants.
export interface Spot {
  place: string; // in words
  moments: Moment[];
}

// MomentWork is how one check was worked out.
export interface MomentWork {
  what: string;
  rows: CardRow[];
}

// MomentAnswer is what a moment comes to, in lines that can be read aloud, the working of its checks behind them.
export interface MomentAnswer {
  place: string;
  stop: string[]; // what has to be known before anything is done
  lines: string[];
  open: string[]; // NOT CHECKED
  faults: string[]; // of what was typed: nothing was worked out
  given: CardRow[]; // what it was asked with, and where that is from
  work: MomentWork[];
}

// State is which state of the job is open, as every print says it.
export interface State {
  brief: string;
  line: string;
  order: string; // how the number is read
  files: string; // what the name of a file of it begins with
}

// Earlier is another state of the job, to be compared with.
export interface Earlier {
  revision: string;
  said: string; // its number, when and by whom
  note: string; // what was changed
  issued: string;
}

// Snap is how what is dragged is drawn to what is near.
export interface Snap {
  within_m: number;
  grid_m: number; // 0: no grid; of a radius: the step that it is rounded to
}
