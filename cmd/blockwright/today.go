package main

import (
	"strconv"
	"time"
)

// today is the date that is written beside what was made or measured: the clock's,
// in UTC, unless the environment's SOURCE_DATE_EPOCH states seconds since 1970, the
// convention for builds that can be repeated (reproducible-builds.org).
func today(env func(string) string) string {
	now := time.Now()
	if s, err := strconv.ParseInt(env("SOURCE_DATE_EPOCH"), 10, 64); err == nil && s >= 0 && s < 1e11 {
		now = time.Unix(s, 0)
	}
	return now.UTC().Format(time.DateOnly)
}
