package layout

import (
	"strings"
	"testing"
)

// The cases of layout.md §9, worked by hand there. Only counts are given where several layouts are as good.
func TestCasesByHand(t *testing.T) {
	for _, c := range []struct{ name, leg, want string }{
		{"1 whole units only", "9020", "3000 3000 3000 = 3 0 0"},
		{"2 one closer, one cut cover", "10000", "c970 = 4 1 1"},
		{"3 closer of whole covers", "10030", "c1000 = 4 1 0"},
		{"4 closer too short, so two", "9620", "= 4 2 1"},
		{"5 two pieces", "3600", "= 2 2 1"},
		{"6 no slice of 2", "2998", "= 2 2 1"},
		{"6 slice of 5", "2995", "c2995 = 1 1 1"},
		{"7 shortest piece", "600", "c600 = 1 1 1"},
		{"8 two cut covers", "1200", "c1200 = 1 1 2"},
		{"8 one cut cover just fits", "1304", "c1304 = 1 1 1"},
		{"8 one cut cover just not", "1303.999", "c1303.999 = 1 1 2"},
		{"9 zone met exactly", "9020 | zone 3010..6010", "3000 3000 3000 = 3 0 0"},
		{"9 zone missed by 1", "9020 | zone 3011..6011", "= 5 4 2"},
		{"11 two cuts round a zone", "9020 | zone 2500..3600", "= 4 2 1"},
		{"12 two zones", "12030 | zone 2900..3100 | zone 5800..6100", "= 5 2 1"},
		{"13 zone at the end", "6010 | zone 2900..3500 | zone 5000..6010", "= 3 2 1"},
		{"13 one way only", "3660 | zone 2400..3100", "c650 3000 = 2 1 1"},
		{"16 measured joint", "2986", "c2986 = 1 1 1"},
		{"16 one joint further", "3004", "= 2 2 1"},
		{"20 two mitred pieces", "5410 | mitre start 1 | mitre end 1", "c2700 c2700 = 2 2"},
		{"20 three pieces", "5420 | mitre start 1 | mitre end 1", "= 3 2"},
		{"20 four pieces", "8430 | mitre start 1 | mitre end 1", "= 4 2"},
		{"20 four pieces still", "9020 | mitre start 1 | mitre end 1", "= 4 2"},
		{"20 shortest sides", "1810 | mitre start 1 | mitre end 1 | coverwidth 0", "c900 c900 = 2 2"},
		{"21 two stocks", "8020 | stock 3000 2000", "3000 3000 2000 = 3 0 0"},
		{"22 gaps of 13", "9026 | window 8..14", "3000 3000 3000 = 3 0 0"},
		{"22 gaps of 14", "9028 | window 8..14", "3000 3000 3000 = 3 0 0"},
		{"22 not without a cut", "9029 | window 8..14", "= 4 "},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := shown(solved(t, leg(t, c.leg))); !strings.Contains(got, c.want) {
				t.Errorf("%s\n got %s\nwant %s", c.leg, got, c.want)
			}
		})
	}
}
