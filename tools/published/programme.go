package published

var programme = []Set{
	{Name: "programme.balance", ID: "9.4", What: "ten repeated units, work, weeks for one, crews: the first begins, the last is done, weeks", Lines: "A 2 2 = 0 11\nB 4 3 = 2 18\nC 1 1 = 9 19\nD 4 3 = 10 26\nE 2 2 = 17 28", Within: 1e-9, Source: "line of balance; rates as read, dates worked out", Status: C, Test: "solve/programme.TestLineOfBalanceAsPublished"},
	{Name: "programme.distance", ID: "9.5", What: "600 m, a day between works, work at m a day: begins, ends, day", Lines: "dig 60 = 0 10\nbed 75 = 3 11\nset 40 = 4 19\nfill 80 = 12.5 20", Within: 1e-9, Source: "time against distance", Status: C, Test: "solve/programme.TestTimeDistanceAsPublished"},
	{Name: "programme.distance-halved", ID: "9.5", What: "the same with setting at half its rate: begins, ends, day", Lines: "dig 60 = 0 10\nbed 75 = 3 11\nset 20 = 4 34\nfill 80 = 27.5 35", Within: 1e-9, Source: "time against distance", Status: C, Test: "solve/programme.TestTimeDistanceAsPublished"},
}
