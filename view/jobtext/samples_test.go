package jobtext

// Three invented jobs; no figure in them is anybody's.

// tenLines is the least that a job says.
const tenLines = `format: 1
name: Cable run behind the workshop
supplies:
  - id: hand
    unit: {lengths: 1000 mm, inner: 200 mm x 150 mm, outer: 290 mm x 200 mm, mass: 70 kg/m}
    joint: {gap: 4 mm in 0 mm..9 mm, mitre_gap: 5 mm}
    saw: {shortest: 250 mm, kerf: 4 mm}
    cover: {lengths: 496 mm, gap: 4 mm, width: 250 mm, lifted_by: hand}
route:
  walk: 24.3 m, right 90°, 12 m, arc left 30 m radius 45°
`

// metric has a bit of everything.
const metric = `format: 1
id: wash-hall
name: "Wash hall: feeder trench"
owner: invented works
by: site engineer
on: 2026-03-02
revision: {id: r4, parents: [r3, r2b], author: site engineer, device: office, note: two heads joined}
system: metric
words: uk
coordinates:
  system: works grid
  height_datum: works datum
  unit: m
  scale_factor: 0.99963
  scale_from: D3
  line: {kind: offset, side: left, offset: 1.2 m, from: kerb}
  origin: [4000, 7000]
documents:
  - {id: D1, title: unit drawing, revision: B, page: 3, entered_by: site engineer, entered_on: 2026-02-20}
  - {id: D2, title: specification, revision: 2, entered_by: site engineer, entered_on: 2026-02-21}
  - {id: D3, title: control survey, entered_by: surveyor}
supplies:
  - id: trough
    title: trough 600 x 500
    from: D1
    unit:
      lengths: [3000 mm, 1500 mm]
      inner: 600 mm x 500 mm
      outer: {value: 780 mm × 600 mm, page: 4}
      mass: 612.5 kg/m
      ends: plain
      may_turn: true
      out_of_square: 3 mm
      cast_in:
        - {kind: insert, name: L1, of: 3000 mm, at: 600 mm, end: A, side: left, edge: 250 mm, level: 400 mm}
        - {kind: drain, of: 1500 mm, at: 750 mm, side: floor, diameter: 60 mm}
      no_cut:
        - {of: 3000 mm, from: 550 mm, to: 650 mm, why: inserts}
      batch_note: |
        lot 12: two corners
        were mended
    joint: {gap: 10 mm in 8 mm..14 mm, mitre_gap: 12 mm, end_gap: 10 mm}
    saw:
      shortest: 600 mm
      kerf: {assumed: 5 mm, by: foreman, on: 2026-03-01, note: measured on two}
      least_slice: 8 mm
      keep_factory_end: true
    cover:
      lengths: [996 mm, 496 mm]
      gap: 4 mm in 2 mm..8 mm
      width: 700 mm
      thickness: 80 mm
      shortest: 300 mm
      mass: 130 kg/m
      may_turn_over: false
      rating: as the data sheet says
      cut_keeps_rating: false
      lifted_by: keys
    bearing: {on: pads, pad_along: 300 mm, pad_across: 900 mm, pad_thick: 20 mm}
    lifting: {by: inserts, hook: ring clutch, cut_lift: not by inserts, off_centre: 60 mm}
    fittings:
      - id: tee-1
        kind: tee
        title: cast tee
        arms:
          - {name: through, length: 900 mm}
          - {name: through-2, length: 900 mm}
          - {name: branch, length: 750 mm, supply: heavy}
        mass: 1.18 t
        covers: [{name: C-1, count: 2, mass: 95 kg}]
        fall: level
        from: D2
    loose_parts:
      - {name: joint seal, per: joint, number: 1.9, unit: m, pack: 25, from: D1}
    stacking: {units_per_bundle: 2, covers_per_pallet: 8, pads_per_pallet: 200}
    rating: {value: as the data sheet says, page: 2}
    cut_keeps_rating: false
  - id: heavy
    unit: {lengths: 3000 mm}
    joint: {gap: 10 mm}
    saw: {no_cuts: true}
route:
  nodes:
    - {id: N1, at: [4000, 7000.5], level: 101.25, end: {kind: building, thickness: 250 mm, face: outer}}
    - {id: N2, at: [4060.25, 7000.5], fitting: tee-1, through: [A, B]}
    - {id: N3, at: [4100, 7000.5], end: {kind: existing, level: 101, skew: -1.5°, section: 780 mm x 600 mm, gap: 15 mm}}
    - {id: N4, at: [4060.25, 6980], end: {kind: plate, thickness: 120 mm}}
    - {id: N5, at: [4020, 7020], end: {kind: open}, note: 'goes on later: "phase 2"'}
    - {id: N6, at: [4020, 7001], sawn: {into: A, opening: 600 mm, clear: 150 mm}}
  legs:
    - id: A
      from: N1
      to: N2
      via: [{at: [4030, 7000.5], radius: 450 m}]
      lay_from: N2
      first: 1500 mm
      hold: true
      crossings:
        - id: X1
          name: gate
          at: 31.2 m
          path: 3500 mm
          margin: 500 mm
          skew: 75°
          supply: heavy
          reach: 600 mm
          strips:
            - {from: -1100 mm, to: -700 mm}
            - {from: 700 mm, to: 1100 mm, detail: D2}
          may_cut: true
          vehicle: lorry
      entries: [{id: E1, at: 12.4 m, side: left, diameter: 110 mm, clear: 100 mm, level: 250 mm}]
      services: [{id: W1, name: water main, at: 55 m, width: 200 mm, clear: 300 mm, skew: 60°, depth: 900 mm, quality: trial hole}]
      supports: [{id: P1, at: 1500 mm, every: 1500 mm, width: 60 mm, clear: 50 mm}]
      zones: [{id: Z1, from: 20 m, to: 21.5 m, why: mast}]
      joints: [{id: J1, at: 30 m, tol: 5 mm, why: movement joint}]
    - {id: B, from: N2, to: N3}
    - {id: C, from: N2, to: N4, supply: heavy}
    - {id: D, from: N6, to: N5}
rules:
  from: D2
  drift_reserve: 1 mm
  lip_limit: {value: 3 mm, page: 11}
  saw_tolerance: 3 mm
  unit_scatter: 2 mm
  spares:
    - {what: covers, percent: 2.5, at_least: 1, from: common practice}
    - {what: joint seal, percent: 5, from: D2}
  prefer: [clearance, few-lengths]
yard:
  - {supply: trough, length: 3000 mm, count: 4}
  - {supply: trough, length: 1240 mm, mark: B-017/a, ends: [{factory: true}, {angle: -22.5°}]}
  - {supply: trough, length: 900 mm, mark: B-019/a, ends: [{}, {factory: true}]}
attachments:
  - {name: survey.csv, sha256: e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855, role: survey}
`

// imperial is in feet and inches, with the marks that people type.
const imperial = `format: 1
name: North yard trench
system: imperial
words: us
coordinates: {system: yard grid, unit: ft, scale_factor: ground, line: {kind: centreline}}
documents: [{id: S1, title: cut sheet, revision: "0"}]
supplies:
  - id: yard
    from: S1
    unit:
      lengths: [8'-0", 4'-0"]
      inner: 20 in x 20 in
      outer: 30 in x 26 in
      mass: 396 lb/ft
      ends: tongue-and-groove
      may_turn: false
      out_of_square: 1/8 in
    joint: {gap: 3/8 in in 1/4 in..5/8 in, mitre_gap: ½", end_gap: 3/8"}
    saw: {shortest: 2', kerf: 3/16 in, keep_factory_end: false}
    cover: {lengths: 23 7/8 in, gap: 1/8 in, width: 26 in, mass: 95 lb/ft}
    lifting: {by: inserts, hook: {assumed: swivel ring, note: seen on the last delivery}}
route:
  nodes:
    - {id: N1, at: [500.25, 300], end: {kind: plate, thickness: 3 in}}
    - {id: N2, at: [560.5, 300]}
    - {id: N3, at: [560.5, 340.75], end: {kind: temporary}}
  legs:
    - {id: A, from: N1, to: N2, zones: [{id: Z1, from: 10'-6", to: 12'-0 1/2", why: footing}]}
    - {id: B, from: N2, to: N3}
`
