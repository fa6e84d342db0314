CREATE TABLE "calibrations" (
	"chamber" text NOT NULL,
	"analyser" text NOT NULL,
	"id" text NOT NULL,
	"kind" text NOT NULL,
	"gas" text,
	"value" jsonb NOT NULL,
	"source" text NOT NULL,
	"note" text NOT NULL,
	"state" text NOT NULL,
	"valid_from" timestamp (3) with time zone,
	"valid_to" timestamp (3) with time zone,
	"set_at" timestamp (3) with time zone NOT NULL,
	"set_by" text NOT NULL,
	"decided_at" timestamp (3) with time zone,
	"decided_by" text,
	"decision_note" text,
	"scans_from" timestamp (3) with time zone,
	"scans_to" timestamp (3) with time zone,
	"scan_count" integer,
	CONSTRAINT "calibrations_chamber_analyser_id_pk" PRIMARY KEY("chamber","analyser","id")
);
--> statement-breakpoint
CREATE TABLE "recomputed_readings" (
	"chamber" text NOT NULL,
	"task" text NOT NULL,
	"at" timestamp (3) with time zone NOT NULL,
	"scan_id" text NOT NULL,
	"gas_list" integer NOT NULL,
	"estimates" "bytea",
	"detected" "bytea",
	"sum_pa" double precision,
	"floor_pa" double precision,
	"notes" jsonb NOT NULL,
	"calibration_version" text NOT NULL,
	"catalogue_version" text NOT NULL,
	CONSTRAINT "recomputed_readings_chamber_task_at_scan_id_pk" PRIMARY KEY("chamber","task","at","scan_id")
);
--> statement-breakpoint
CREATE TABLE "tasks" (
	"chamber" text NOT NULL,
	"analyser" text NOT NULL,
	"id" text NOT NULL,
	"kind" text NOT NULL,
	"request" jsonb NOT NULL,
	"state" text NOT NULL,
	"asked_at" timestamp (3) with time zone NOT NULL,
	"asked_by" text NOT NULL,
	"finished_at" timestamp (3) with time zone,
	"problem" text,
	"calibration" text,
	"scans" integer,
	"change" jsonb,
	"done_to" timestamp (3) with time zone,
	"done_scan" text,
	"basis" text,
	"instrument" "bytea",
	CONSTRAINT "tasks_chamber_id_pk" PRIMARY KEY("chamber","id")
);
--> statement-breakpoint
ALTER TABLE "latest" ADD COLUMN "measurement" jsonb;--> statement-breakpoint
ALTER TABLE "latest" ADD COLUMN "instrument" jsonb;--> statement-breakpoint
ALTER TABLE "readings" ADD COLUMN "chi_square_per_dof" real;--> statement-breakpoint
ALTER TABLE "readings" ADD COLUMN "detector" text;--> statement-breakpoint
ALTER TABLE "readings" ADD COLUMN "mass_offset_u" real;--> statement-breakpoint
ALTER TABLE "readings" ADD COLUMN "width_u" real;--> statement-breakpoint
ALTER TABLE "readings" ADD COLUMN "read_noise_pa" double precision;--> statement-breakpoint
ALTER TABLE "readings" ADD COLUMN "gain" real;--> statement-breakpoint
ALTER TABLE "watch_memory" ADD COLUMN "instrument" "bytea";--> statement-breakpoint
CREATE UNIQUE INDEX "calibrations_id" ON "calibrations" USING btree ("id");--> statement-breakpoint
CREATE INDEX "calibrations_analyser" ON "calibrations" USING btree ("analyser");--> statement-breakpoint
CREATE UNIQUE INDEX "tasks_id" ON "tasks" USING btree ("id");--> statement-breakpoint
CREATE INDEX "tasks_waiting" ON "tasks" USING btree ("chamber") WHERE state = 'waiting';--> statement-breakpoint
CREATE INDEX "tasks_analyser" ON "tasks" USING btree ("analyser","asked_at");--> statement-breakpoint
-- Packed already.
ALTER TABLE "watch_memory" ALTER COLUMN "instrument" SET STORAGE EXTERNAL;
--> statement-breakpoint
ALTER TABLE "tasks" ALTER COLUMN "instrument" SET STORAGE EXTERNAL;
--> statement-breakpoint
-- What the overview reads of a thousand rows stays in the row; what has come beside it moves out first.
ALTER TABLE "latest" ALTER COLUMN "strip" SET STORAGE MAIN, ALTER COLUMN "estimates" SET STORAGE MAIN,
  ALTER COLUMN "notes" SET STORAGE MAIN;
