package dossier

import (
	"bytes"
	"encoding/csv"
	"math"
	"slices"
	"strings"
	"testing"

	"trenchwright/job/field"
	"trenchwright/view/geojson"
)

// Where devices said that they were goes out as figures and as points that come in again, with their datum, and never as survey; what is
// no place on earth is left out.
func TestPositionsAreToldAsTheDevicesGaveThem(t *testing.T) {
	in := built()[0]
	in.Records = slices.Clone(in.Records)
	in.Records[2].Fix = &field.Fix{Latitude: 51.4779281, Longitude: -0.0014711, Within: 4.7}
	in.Records[5].Fix = &field.Fix{Latitude: -33.8567844, Longitude: 151.2152967}
	in.Records[6].Fix = &field.Fix{Latitude: 95, Longitude: 0, Within: 3}
	d := Of(in)
	rows, err := csv.NewReader(bytes.NewReader(csvOf(t, d, "positions"))).ReadAll()
	if err != nil || len(rows) != 3 {
		t.Fatal(rows, err)
	}
	for _, want := range []string{"51.4779281", "-0.0014711", "4.7", "WGS 84, as the device gave it", in.Records[2].ID} {
		if !slices.ContainsFunc(rows, func(r []string) bool { return slices.Contains(r, want) }) {
			t.Errorf("%s is not in %v", want, rows)
		}
	}
	inside := inside(t, files(t, in))
	file, err := geojson.Read(bytes.NewReader(inside["interchange/positions.geojson"].Data), geojson.Options{})
	if err != nil || len(file.Features) != 2 {
		t.Fatal(file, err)
	}
	for _, f := range file.Features {
		at := f.Geometry.Bodies[0][0][0]
		i := slices.IndexFunc(in.Records, func(r field.Record) bool { return r.ID == f.ID })
		if fix := in.Records[i].Fix; math.Abs(at.Lat-fix.Latitude) > 1e-7 || math.Abs(at.Lon-fix.Longitude) > 1e-7 {
			t.Errorf("%v is not at %v", f, fix)
		}
		if what, _ := f.Text("what"); !strings.Contains(what, "no survey") {
			t.Errorf("%q", what)
		}
	}
	if !strings.Contains(string(inside[index].Data), "are no survey") {
		t.Error("the index does not say what positions are not")
	}
	if built := string(inside["interchange/as-built.xml"].Data); strings.Contains(built, "51.47") {
		t.Error("a device's position stands among surveyed points")
	}
}
