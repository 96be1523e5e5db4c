package measure

import "testing"

// A side of a dig is said as a ratio: one up and so many out, or whole numbers where that would not end.
func TestGradeRatio(t *testing.T) {
	for _, c := range []struct {
		g    Grade
		want string
	}{
		{Grade{Rise: 1, Run: 1}, "1:1"}, {Grade{Rise: 4, Run: 3}, "1:0.75"}, {Grade{Rise: 2, Run: 3}, "1:1.5"}, {Grade{Rise: 3, Run: 1}, "3:1"},
		{Grade{Rise: -2, Run: 4}, "1:2"}, {Grade{Rise: 0, Run: 5}, "0 %"}, {Grade{Rise: 600, Run: 200}, "3:1"},
	} {
		if got := c.g.Ratio(); got != c.want {
			t.Errorf("%d up, %d out: %s, want %s", c.g.Rise, c.g.Run, got, c.want)
		}
	}
}
