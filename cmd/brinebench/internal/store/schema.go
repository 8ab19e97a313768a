package store

import (
	"context"
	"fmt"
)

// migrations bring the tables from each version to the next; what stands here is never
// changed, only added to. Times are ms since 1970 UTC. What is 64 bits without a sign
// is kept as the number with the same bits.
var migrations = [][]string{
	{
		`CREATE TABLE settings (name TEXT PRIMARY KEY, value {bytes} NOT NULL)`,
		`CREATE TABLE sessions (digest {bytes} PRIMARY KEY, until_ms BIGINT NOT NULL)`,
		`CREATE TABLE classes (id {id}, name TEXT NOT NULL, code TEXT NOT NULL UNIQUE, made_ms BIGINT NOT NULL,
			locked BOOLEAN NOT NULL, frozen BOOLEAN NOT NULL, due_ms BIGINT NOT NULL, end_ms BIGINT NOT NULL, events BIGINT NOT NULL)`,
		`CREATE TABLE drills (id {id}, class BIGINT NOT NULL REFERENCES classes ON DELETE CASCADE, place BIGINT NOT NULL,
			kind TEXT NOT NULL, ref TEXT NOT NULL, title TEXT NOT NULL, seed BIGINT NOT NULL, exam BOOLEAN NOT NULL, body {bytes} NOT NULL,
			UNIQUE (class, place))`,
		`CREATE TABLE members (id {id}, class BIGINT NOT NULL REFERENCES classes ON DELETE CASCADE, nickname TEXT NOT NULL, folded TEXT NOT NULL,
			digest {bytes} NOT NULL UNIQUE, joined_ms BIGINT NOT NULL, seen_ms BIGINT NOT NULL, out BOOLEAN NOT NULL, UNIQUE (class, folded))`,
		`CREATE TABLE attempts (member BIGINT NOT NULL REFERENCES members ON DELETE CASCADE, drill BIGINT NOT NULL REFERENCES drills ON DELETE CASCADE,
			epoch BIGINT NOT NULL, opened_ms BIGINT NOT NULL, acts BIGINT NOT NULL, ticks BIGINT NOT NULL, last_ms BIGINT NOT NULL, last TEXT NOT NULL,
			last_tick BIGINT NOT NULL, status TEXT NOT NULL, hash BIGINT NOT NULL, why TEXT NOT NULL, claimed_ms BIGINT NOT NULL, answer {bytes},
			PRIMARY KEY (member, drill))`,
		`CREATE TABLE acts (member BIGINT NOT NULL, drill BIGINT NOT NULL, seq BIGINT NOT NULL, kept_ms BIGINT NOT NULL, tick BIGINT NOT NULL,
			kind TEXT NOT NULL, part TEXT NOT NULL, ref TEXT NOT NULL, words TEXT NOT NULL, bits BIGINT NOT NULL, PRIMARY KEY (member, drill, seq),
			FOREIGN KEY (member, drill) REFERENCES attempts ON DELETE CASCADE)`,
		`CREATE TABLE results (member BIGINT NOT NULL, drill BIGINT NOT NULL, score DOUBLE PRECISION NOT NULL, minutes DOUBLE PRECISION NOT NULL,
			unsafe BIGINT NOT NULL, named TEXT NOT NULL, fits BOOLEAN NOT NULL, report {bytes} NOT NULL, at_ms BIGINT NOT NULL,
			PRIMARY KEY (member, drill), FOREIGN KEY (member, drill) REFERENCES attempts ON DELETE CASCADE)`,
		`CREATE TABLE events (class BIGINT NOT NULL REFERENCES classes ON DELETE CASCADE, seq BIGINT NOT NULL, member BIGINT NOT NULL,
			kind TEXT NOT NULL, words TEXT NOT NULL, at_ms BIGINT NOT NULL, PRIMARY KEY (class, seq))`,
		`CREATE INDEX members_class ON members (class)`,
		`CREATE INDEX attempts_drill ON attempts (drill)`,
		`CREATE INDEX attempts_status ON attempts (status)`,
	},
	{ // what there was before was begun with the first engine that served a classroom
		`ALTER TABLE attempts ADD COLUMN engine TEXT NOT NULL DEFAULT 'brinebench-engine-5'`,
	},
	{
		`ALTER TABLE classes ADD COLUMN frozen_ms BIGINT NOT NULL DEFAULT 0`,
	},
	{ // whose a drill is, 0 for everybody's
		`ALTER TABLE drills ADD COLUMN member BIGINT NOT NULL DEFAULT 0`,
	},
	{ // how much of an answer there is; until it is handed in, answer holds it as far as it has come
		`ALTER TABLE attempts ADD COLUMN answered BIGINT NOT NULL DEFAULT 0`,
		`ALTER TABLE attempts ADD COLUMN asked BIGINT NOT NULL DEFAULT 0`,
	},
	{ // of classes whose time ran from when they were made, due_ms is set
		`ALTER TABLE classes ADD COLUMN length_ms BIGINT NOT NULL DEFAULT 0`,
	},
}

// migrate brings the tables up to date. Where several programs start at once on one
// PostgreSQL database, one does it and the others wait.
func (s *Store) migrate(ctx context.Context) error {
	return s.inTx(ctx, func(t *tx) error {
		if s.postgres {
			const ours = 7_201_431 // any number, the same in every program
			if err := t.exec(ctx, `SELECT pg_advisory_xact_lock(?)`, ours); err != nil {
				return err
			}
		}
		if err := t.exec(ctx, `CREATE TABLE IF NOT EXISTS schema_version (version BIGINT NOT NULL)`); err != nil {
			return err
		}
		var version int
		if err := t.row(ctx, `SELECT COALESCE(MAX(version), 0) FROM schema_version`).Scan(&version); err != nil {
			return err
		}
		if version > len(migrations) {
			return fmt.Errorf("its tables are of version %d, and this program knows %d: it is older than the data", version, len(migrations))
		}
		for i, steps := range migrations[version:] {
			for _, step := range steps {
				if err := t.exec(ctx, step); err != nil {
					return fmt.Errorf("to version %d: %w", version+i+1, err)
				}
			}
			if err := t.exec(ctx, `INSERT INTO schema_version (version) VALUES (?)`, version+i+1); err != nil {
				return err
			}
		}
		return nil
	})
}
