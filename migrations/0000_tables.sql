CREATE TABLE "alert_moves" (
	"chamber" text NOT NULL,
	"alert" text NOT NULL,
	"seq" integer NOT NULL,
	"at" timestamp (3) with time zone NOT NULL,
	"by" text,
	"move" text NOT NULL,
	"from_state" text,
	"to_state" text NOT NULL,
	"note" text,
	CONSTRAINT "alert_moves_chamber_alert_seq_pk" PRIMARY KEY("chamber","alert","seq")
);
--> statement-breakpoint
CREATE TABLE "alerts" (
	"chamber" text NOT NULL,
	"id" text NOT NULL,
	"analyser" text,
	"signature" text NOT NULL,
	"gases" text[] NOT NULL,
	"priority" text NOT NULL,
	"state" text NOT NULL,
	"raised_at" timestamp (3) with time zone NOT NULL,
	"returned_at" timestamp (3) with time zone,
	"acknowledged_at" timestamp (3) with time zone,
	"acknowledged_by" text,
	"acknowledged_note" text,
	"shelved_until" timestamp (3) with time zone,
	"shelved_reason" text,
	"closed_at" timestamp (3) with time zone,
	"closed_by" text,
	"closed_cause" text,
	"closed_note" text,
	"active" boolean NOT NULL,
	"held_by" text[] NOT NULL,
	"finding" jsonb NOT NULL,
	CONSTRAINT "alerts_chamber_id_pk" PRIMARY KEY("chamber","id")
);
--> statement-breakpoint
CREATE TABLE "analysers" (
	"chamber" text NOT NULL,
	"id" text NOT NULL,
	"position" integer NOT NULL,
	"document" jsonb NOT NULL,
	"version" integer DEFAULT 1 NOT NULL,
	"retired_at" timestamp (3) with time zone,
	CONSTRAINT "analysers_chamber_id_pk" PRIMARY KEY("chamber","id")
);
--> statement-breakpoint
CREATE TABLE "areas" (
	"id" text PRIMARY KEY NOT NULL,
	"name" text NOT NULL,
	"time_zone" text NOT NULL,
	"shifts" text[] NOT NULL,
	"position" integer NOT NULL,
	"document" jsonb NOT NULL,
	"retired_at" timestamp (3) with time zone
);
--> statement-breakpoint
CREATE TABLE "audit" (
	"id" bigint PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "audit_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 9223372036854775807 START WITH 1 CACHE 1),
	"at" timestamp (3) with time zone NOT NULL,
	"by" text NOT NULL,
	"what" text NOT NULL,
	"detail" jsonb NOT NULL
);
--> statement-breakpoint
CREATE TABLE "baselines" (
	"chamber" text NOT NULL,
	"analyser" text NOT NULL,
	"state" text NOT NULL,
	"gases" jsonb NOT NULL,
	"peaks" jsonb NOT NULL,
	"since" timestamp (3) with time zone NOT NULL,
	"until" timestamp (3) with time zone NOT NULL,
	CONSTRAINT "baselines_chamber_analyser_state_pk" PRIMARY KEY("chamber","analyser","state")
);
--> statement-breakpoint
CREATE TABLE "chamber_states" (
	"chamber" text NOT NULL,
	"analyser" text NOT NULL,
	"at" timestamp (3) with time zone NOT NULL,
	"state" text NOT NULL,
	CONSTRAINT "chamber_states_chamber_analyser_at_pk" PRIMARY KEY("chamber","analyser","at")
);
--> statement-breakpoint
CREATE TABLE "chambers" (
	"id" text PRIMARY KEY NOT NULL,
	"name" text NOT NULL,
	"area" text NOT NULL,
	"kind" text,
	"position" integer NOT NULL,
	"document" jsonb NOT NULL,
	"retired_at" timestamp (3) with time zone
);
--> statement-breakpoint
CREATE TABLE "fleet_versions" (
	"version" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "fleet_versions_version_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"document" jsonb NOT NULL,
	"applied_at" timestamp (3) with time zone NOT NULL,
	"applied_by" text NOT NULL
);
--> statement-breakpoint
CREATE TABLE "gas_lists" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "gas_lists_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"gases" text[] NOT NULL,
	CONSTRAINT "gas_lists_gases_unique" UNIQUE("gases")
);
--> statement-breakpoint
CREATE TABLE "latest" (
	"chamber" text NOT NULL,
	"analyser" text NOT NULL,
	"at" timestamp (3) with time zone NOT NULL,
	"scan_id" text NOT NULL,
	"state" text NOT NULL,
	"state_since" timestamp (3) with time zone NOT NULL,
	"scan_period_seconds" real,
	"gas_list" integer NOT NULL,
	"estimates" "bytea",
	"detected" "bytea",
	"gauge_pa" double precision,
	"sum_pa" double precision,
	"floor_pa" double precision,
	"decades" real,
	"unexplained" real,
	"kappa" real,
	"notes" jsonb NOT NULL,
	"strip" jsonb NOT NULL,
	"learning" jsonb,
	"spectrum" jsonb,
	"received_at" timestamp (3) with time zone NOT NULL,
	CONSTRAINT "latest_chamber_analyser_pk" PRIMARY KEY("chamber","analyser")
);
--> statement-breakpoint
CREATE TABLE "limits" (
	"chamber" text NOT NULL,
	"gas" text NOT NULL,
	"limit_pa" double precision NOT NULL,
	"priority" text NOT NULL,
	"note" text NOT NULL,
	"set_at" timestamp (3) with time zone NOT NULL,
	"set_by" text NOT NULL,
	CONSTRAINT "limits_chamber_gas_pk" PRIMARY KEY("chamber","gas")
);
--> statement-breakpoint
CREATE TABLE "outstanding_scans" (
	"chamber" text NOT NULL,
	"analyser" text NOT NULL,
	"at" timestamp (3) with time zone NOT NULL,
	"scan_id" text NOT NULL,
	"received_at" timestamp (3) with time zone NOT NULL,
	CONSTRAINT "outstanding_scans_chamber_at_analyser_scan_id_pk" PRIMARY KEY("chamber","at","analyser","scan_id")
);
--> statement-breakpoint
CREATE TABLE "people" (
	"login" text PRIMARY KEY NOT NULL,
	"name" text NOT NULL,
	"role" text NOT NULL,
	"password_hash" text NOT NULL,
	"created_at" timestamp (3) with time zone NOT NULL,
	"last_seen_at" timestamp (3) with time zone,
	"retired_at" timestamp (3) with time zone
);
--> statement-breakpoint
CREATE TABLE "readings" (
	"chamber" text NOT NULL,
	"analyser" text NOT NULL,
	"at" timestamp (3) with time zone NOT NULL,
	"scan_id" text NOT NULL,
	"state" text NOT NULL,
	"gas_list" integer NOT NULL,
	"estimates" "bytea",
	"detected" "bytea",
	"gauge_pa" double precision,
	"sum_pa" double precision,
	"floor_pa" double precision,
	"decades" real,
	"unexplained" real,
	"kappa" real,
	"notes" jsonb NOT NULL,
	"calibration_version" text NOT NULL,
	"catalogue_version" text NOT NULL,
	"judged" boolean NOT NULL,
	CONSTRAINT "readings_chamber_analyser_at_scan_id_pk" PRIMARY KEY("chamber","analyser","at","scan_id")
) PARTITION BY RANGE ("at");
--> statement-breakpoint
CREATE TABLE "rejects" (
	"id" bigint PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "rejects_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 9223372036854775807 START WITH 1 CACHE 1),
	"received_at" timestamp (3) with time zone NOT NULL,
	"token" text NOT NULL,
	"analyser" text,
	"scan_id" text,
	"position" integer NOT NULL,
	"problem" text NOT NULL,
	"body" text NOT NULL
);
--> statement-breakpoint
CREATE TABLE "rounds" (
	"area" text NOT NULL,
	"id" text NOT NULL,
	"signed_at" timestamp (3) with time zone NOT NULL,
	"signed_by" text NOT NULL,
	"note" text NOT NULL,
	"seen" jsonb NOT NULL,
	CONSTRAINT "rounds_area_id_pk" PRIMARY KEY("area","id")
);
--> statement-breakpoint
CREATE TABLE "scan_keys" (
	"chamber" text NOT NULL,
	"analyser" text NOT NULL,
	"scan_id" text NOT NULL,
	"at" timestamp (3) with time zone NOT NULL,
	"digest" "bytea" NOT NULL,
	CONSTRAINT "scan_keys_chamber_analyser_scan_id_pk" PRIMARY KEY("chamber","analyser","scan_id")
);
--> statement-breakpoint
CREATE TABLE "scans" (
	"chamber" text NOT NULL,
	"analyser" text NOT NULL,
	"at" timestamp (3) with time zone NOT NULL,
	"scan_id" text NOT NULL,
	"seconds" double precision NOT NULL,
	"averages" integer NOT NULL,
	"masses" jsonb NOT NULL,
	"values" "bytea" NOT NULL,
	"unit" text NOT NULL,
	"detector" text,
	"total_pressure_pa" double precision,
	"state" text,
	"temperature_c" real,
	"received_at" timestamp (3) with time zone NOT NULL,
	CONSTRAINT "scans_chamber_analyser_at_scan_id_pk" PRIMARY KEY("chamber","analyser","at","scan_id")
) PARTITION BY RANGE ("at");
--> statement-breakpoint
CREATE TABLE "sessions" (
	"hash" text PRIMARY KEY NOT NULL,
	"login" text NOT NULL,
	"created_at" timestamp (3) with time zone NOT NULL,
	"seen_at" timestamp (3) with time zone NOT NULL,
	"expires_at" timestamp (3) with time zone NOT NULL
);
--> statement-breakpoint
CREATE TABLE "set_up_keys" (
	"hash" text PRIMARY KEY NOT NULL,
	"expires_at" timestamp (3) with time zone NOT NULL,
	"used_at" timestamp (3) with time zone
);
--> statement-breakpoint
CREATE TABLE "settings" (
	"key" text PRIMARY KEY NOT NULL,
	"value" jsonb NOT NULL
);
--> statement-breakpoint
CREATE TABLE "tokens" (
	"id" text PRIMARY KEY NOT NULL,
	"name" text NOT NULL,
	"role" text NOT NULL,
	"analysers" text[],
	"hash" text NOT NULL,
	"created_at" timestamp (3) with time zone NOT NULL,
	"last_used_at" timestamp (3) with time zone,
	"revoked_at" timestamp (3) with time zone,
	CONSTRAINT "tokens_hash_unique" UNIQUE("hash")
);
--> statement-breakpoint
CREATE TABLE "watch_memory" (
	"chamber" text NOT NULL,
	"analyser" text NOT NULL,
	"judged_to" timestamp (3) with time zone NOT NULL,
	"version" integer NOT NULL,
	"memory" "bytea" NOT NULL,
	CONSTRAINT "watch_memory_chamber_analyser_pk" PRIMARY KEY("chamber","analyser")
);
--> statement-breakpoint
CREATE UNIQUE INDEX "alerts_id" ON "alerts" USING btree ("id");--> statement-breakpoint
CREATE UNIQUE INDEX "alerts_one_open" ON "alerts" USING btree ("chamber","signature") WHERE state <> 'normal';--> statement-breakpoint
CREATE INDEX "alerts_raised" ON "alerts" USING btree ("raised_at");--> statement-breakpoint
CREATE INDEX "alerts_untold" ON "alerts" USING btree ("chamber") WHERE state = 'normal' and held_by <> '{}';--> statement-breakpoint
CREATE INDEX "alerts_shelved" ON "alerts" USING btree ("shelved_until") WHERE state = 'shelved';--> statement-breakpoint
CREATE UNIQUE INDEX "analysers_id" ON "analysers" USING btree ("id");--> statement-breakpoint
CREATE INDEX "audit_at" ON "audit" USING btree ("at");--> statement-breakpoint
CREATE INDEX "rejects_received" ON "rejects" USING btree ("received_at");--> statement-breakpoint
CREATE INDEX "rounds_signed" ON "rounds" USING btree ("area","signed_at");
--> statement-breakpoint
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
