-- What the table declarations cannot say. Appended to the first migration by generate.ts.

-- Scans hold raw float64, which general compression does not shrink, and the watch's memory is gzip already.
ALTER TABLE "scans" ALTER COLUMN "values" SET STORAGE EXTERNAL;
--> statement-breakpoint
ALTER TABLE "watch_memory" ALTER COLUMN "memory" SET STORAGE EXTERNAL;
--> statement-breakpoint
-- Replaced with every batch: room on the page lets the new version stay beside the old one, without index work.
ALTER TABLE "latest" SET (fillfactor = 50, autovacuum_vacuum_scale_factor = 0.02);
--> statement-breakpoint
ALTER TABLE "watch_memory" SET (fillfactor = 50, autovacuum_vacuum_scale_factor = 0.02);
--> statement-breakpoint
ALTER TABLE "baselines" SET (fillfactor = 50, autovacuum_vacuum_scale_factor = 0.02);
--> statement-breakpoint
-- A queue: nearly empty most of the time, so a share of its rows is no measure of its dead ones.
ALTER TABLE "outstanding_scans" SET (autovacuum_vacuum_scale_factor = 0, autovacuum_vacuum_threshold = 2000,
  autovacuum_analyze_scale_factor = 0, autovacuum_analyze_threshold = 2000);
--> statement-breakpoint
-- Makes the monthly partitions (UTC) that hold the given instants; those that exist are left alone.
-- A partition is made beside its table and then attached, because ATTACH, unlike CREATE … PARTITION OF, blocks
-- neither readers nor writers. The lock makes simultaneous callers wait for each other instead of failing.
CREATE FUNCTION ensure_partitions(instants timestamptz[]) RETURNS integer LANGUAGE plpgsql AS $$
DECLARE
  made integer := 0;
  parent text;
  child text;
  month timestamp;
BEGIN
  PERFORM pg_advisory_xact_lock(hashtext('ullage partitions'));
  FOR month IN SELECT DISTINCT date_trunc('month', i AT TIME ZONE 'UTC') FROM unnest(instants) AS i ORDER BY 1 LOOP
    FOREACH parent IN ARRAY ARRAY['scans', 'readings'] LOOP
      child := parent || to_char(month, '_YYYY_MM');
      IF to_regclass(quote_ident(child)) IS NULL THEN
        EXECUTE format('CREATE TABLE %I (LIKE %I INCLUDING ALL)', child, parent);
        EXECUTE format('ALTER TABLE %I ATTACH PARTITION %I FOR VALUES FROM (%L) TO (%L)', parent, child,
          month AT TIME ZONE 'UTC', (month + interval '1 month') AT TIME ZONE 'UTC');
        made := made + 1;
      END IF;
    END LOOP;
  END LOOP;
  RETURN made;
END $$;
