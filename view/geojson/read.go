package geojson

import (
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"

	"trenchwright/base/finding"
)

// Read reads a file: a collection of features, one feature or one geometry. A feature that cannot be read is left out, and
// Notes hold the fault; where nothing at all is left, or the file is no GeoJSON, the error says why.
func Read(in io.Reader, opts Options) (File, error) {
	r := newReader(in, opts)
	t, err := r.next()
	if err != nil {
		return File{}, err
	}
	if t != json.Delim('{') {
		return File{}, r.refuse("not-geojson", "this is JSON and no GeoJSON: it does not begin with an object")
	}
	root, err := r.thing(r.features)
	if err != nil {
		return File{}, err
	}
	if _, err := r.dec.Token(); err != io.EOF {
		return File{}, r.refuse("more", "something follows behind the end of the first object").try("one collection of features")
	}
	if err := r.settle(root); err != nil {
		return File{Notes: r.file.Notes}, err
	}
	return *r.file, nil
}

// thing is any object of GeoJSON as it is written: its members that RFC 7946 defines. Which of them count depends on its
// type, which may stand last.
type thing struct {
	kind                     Kind
	coordinates              *nest
	members                  []thing // of a GeometryCollection
	geometry                 *thing
	id                       string
	numberID, noID           bool
	properties               []Property
	hasGeometry, hasFeatures bool
	line                     int
	wrong                    string
}

// thing reads an object that was just begun. features takes the list of that name, where the object may be a collection.
func (r *reader) thing(features func() error) (thing, error) {
	out := thing{line: r.at()}
	err := r.members(func(name string) (err error) {
		switch {
		case name == "type":
			out.kind, err = r.kind()
		case name == "coordinates":
			var n nest
			n, err = r.coordinates()
			out.coordinates = &n
		case name == "geometries":
			out.members, err = r.geometries(&out)
		case name == "geometry":
			out.hasGeometry = true
			out.geometry, err = r.inner(&out)
		case name == "properties":
			out.properties, err = r.properties(&out)
		case name == "id":
			err = r.id(&out)
		case name == "features" && features != nil:
			out.hasFeatures = true
			err = features()
		case name == "crs":
			err = r.system()
		case name == "bbox":
			_, err = r.value()
		default:
			r.strange(name)
			_, err = r.value()
		}
		return err
	})
	return out, err
}

// strange counts a member that RFC 7946 does not define.
func (r *reader) strange(name string) {
	const most = 20
	if name = clipped(name, 24); len(r.foreign) < most && !slices.Contains(r.foreign, name) {
		r.foreign = append(r.foreign, name)
	}
}

func (r *reader) kind() (Kind, error) {
	raw, err := r.value()
	if err != nil {
		return "", err
	}
	var text string
	if json.Unmarshal(raw, &text) != nil || text == "" {
		return "?", nil
	}
	return Kind(clipped(text, 24)), nil
}

// system refuses a coordinate system of the file's own, which earlier GeoJSON allowed; WGS 84 by name is no other.
func (r *reader) system() error {
	raw, err := r.value()
	if err != nil {
		return err
	}
	var named struct {
		Properties struct{ Name string }
	}
	name := "of its own"
	if json.Unmarshal(raw, &named) == nil && named.Properties.Name != "" {
		name = named.Properties.Name
	}
	for _, same := range []string{"CRS84", "EPSG:4326", "EPSG::4326"} {
		if string(raw) == "null" || strings.HasSuffix(name, same) {
			r.strange("crs")
			return nil
		}
	}
	return r.refuse("system", "the file names the coordinate system %s; GeoJSON is WGS 84 in longitude and latitude (RFC 7946, 4)", clipped(name, 60)).
		try("an export in WGS 84")
}

func (r *reader) id(out *thing) error {
	raw, err := r.value()
	if err != nil {
		return err
	}
	switch c := raw[0]; {
	case c == '"':
		return json.Unmarshal(raw, &out.id)
	case c == '-' || c >= '0' && c <= '9':
		out.id, out.numberID = string(raw), true
	default:
		out.noID = true
	}
	return nil
}

// properties keeps the members of an object in their order; anything else but null is a fault.
func (r *reader) properties(out *thing) ([]Property, error) {
	t, err := r.next()
	if err != nil || t == nil {
		return nil, err
	}
	if t != json.Delim('{') {
		out.wrong = "its properties are no object"
		if t == json.Delim('[') {
			err = r.rest()
		}
		return nil, err
	}
	var list []Property
	err = r.members(func(name string) error {
		value, err := r.value()
		list = append(list, Property{name, value})
		return err
	})
	return list, err
}

// inner is an object in an object; null is none.
func (r *reader) inner(out *thing) (*thing, error) {
	t, err := r.next()
	if err != nil || t == nil {
		return nil, err
	}
	if t != json.Delim('{') {
		out.wrong = "its geometry is no object"
		if t == json.Delim('[') {
			err = r.rest()
		}
		return nil, err
	}
	in, err := r.thing(nil)
	return &in, err
}

func (r *reader) geometries(out *thing) ([]thing, error) {
	if t, err := r.next(); err != nil || t != json.Delim('[') {
		out.wrong = "its geometries are no list"
		if t == json.Delim('{') {
			return nil, r.rest()
		}
		return nil, err
	}
	var list []thing
	err := r.each(func() error {
		one, err := r.thing(nil)
		list = append(list, one)
		return err
	}, func() { out.wrong = "its geometries hold something that is no object" })
	return list, err
}

// each calls take for every object of a list that was just begun, and other for everything else in it.
func (r *reader) each(take func() error, other func()) error {
	for {
		t, err := r.next()
		switch {
		case err != nil:
			return err
		case t == json.Delim(']'):
			return nil
		case t == json.Delim('{'):
			err = take()
		case t == json.Delim('['):
			other()
			err = r.rest()
		default:
			other()
		}
		if err != nil {
			return err
		}
	}
}

// features takes the features of a collection, one after the other.
func (r *reader) features() error {
	if t, err := r.next(); err != nil || t != json.Delim('[') {
		if err == nil {
			err = r.refuse("features", "the member \"features\" is no list")
		}
		return err
	}
	n := 0
	return r.each(func() error {
		n++
		one, err := r.thing(nil)
		if err != nil {
			return err
		}
		return r.feature(one, n)
	}, func() {
		n++
		r.fault(r.at(), n, "it is no object")
	})
}

const mostFaults = 50 // that are listed one by one

func (r *reader) fault(line, n int, why string) {
	r.faults++
	f := r.finding(finding.Fault, line, "feature", "feature %d: %s", n, why)
	f.Where.Path = fmt.Sprintf("features[%d]", n-1)
	switch {
	case r.faults <= mostFaults:
		r.file.Notes = append(r.file.Notes, f)
	case r.faults == mostFaults+1:
		r.file.Notes = append(r.file.Notes, r.finding(finding.Fault, line, "more-faults", "and more faults, which are not listed"))
	}
}

// feature keeps feature n of the file, or says why not.
func (r *reader) feature(t thing, n int) error {
	if len(r.file.Features) == r.limits.Features {
		return r.refuse("too-many", "the file has more than %d features", r.limits.Features).try("only the part along the route")
	}
	f := Feature{ID: t.id, NumberID: t.numberID, Properties: t.properties, Line: t.line}
	why := t.wrong
	switch {
	case why != "":
	case t.kind == "":
		why = "it has no type"
	case t.kind != "Feature":
		why = fmt.Sprintf("its type is %q; Feature was expected", t.kind)
	case t.noID:
		why = "its id is neither a text nor a number"
	case t.geometry != nil:
		f.Geometry, why = r.geometry(*t.geometry)
	}
	if why != "" {
		r.fault(t.line, n, why)
		return nil
	}
	r.file.Features = append(r.file.Features, f)
	return nil
}

// settle looks at the root, once everything is known.
func (r *reader) settle(root thing) error {
	switch k := root.kind; {
	case k == "":
		return r.refuse("not-geojson", "this is JSON and no GeoJSON: its first object has no type")
	case k == "FeatureCollection" && !root.hasFeatures:
		return r.refuse("features", "the collection has no member \"features\"")
	case k == "FeatureCollection":
	case root.hasFeatures:
		return r.refuse("not-geojson", "its first object has features and is of type %q; FeatureCollection was expected", string(k))
	case k == "Feature":
		if err := r.feature(root, 1); err != nil {
			return err
		}
	case !isGeometry(k):
		return r.refuse("not-geojson", "its first object is of type %q, which GeoJSON does not know", string(k))
	default:
		whole := root
		if err := r.feature(thing{kind: "Feature", geometry: &whole, line: root.line}, 1); err != nil {
			return err
		}
	}
	r.remarks()
	if len(r.file.Features) > 0 {
		return nil
	}
	var why []string
	for _, f := range r.file.Notes {
		if f.Kind == finding.Fault {
			why = append(why, (&Refusal{f}).Error())
		}
	}
	if len(why) == 0 {
		return r.refuse("nothing", "the file holds no feature")
	}
	return r.refuse("nothing", "nothing in the file can be used: %s", strings.Join(why, "; "))
}

// remarks says what was seen on the way.
func (r *reader) remarks() {
	r.note("understood", "GeoJSON in WGS 84, longitude before latitude: %d features, %d positions", len(r.file.Features), r.positions)
	if len(r.foreign) > 0 {
		r.note("foreign", "members that RFC 7946 does not define were passed over: %s", strings.Join(r.foreign, ", "))
	}
	if r.heights > 0 {
		r.note("heights", "%d positions have a height above the ellipsoid of WGS 84; it is tens of metres from a height datum and no level", r.heights)
	}
	if r.longer > 0 {
		r.note("longer", "%d positions have more than three numbers; the rest was passed over", r.longer)
	}
	if r.turned > 0 {
		r.note("turned", "%d rings turn the other way than RFC 7946 (3.1.6) has it; they bound the same ground", r.turned)
	}
	if r.empty > 0 {
		r.note("empty", "%d geometries have no position; their features lie nowhere", r.empty)
	}
}
