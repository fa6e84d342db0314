CREATE TABLE "baseline_pins" (
	"chamber" text NOT NULL,
	"analyser" text NOT NULL,
	"id" text NOT NULL,
	"version" integer NOT NULL,
	"operating_state" text NOT NULL,
	"scans_from" timestamp (3) with time zone NOT NULL,
	"scans_to" timestamp (3) with time zone NOT NULL,
	"note" text NOT NULL,
	"state" text NOT NULL,
	"problem" text,
	"scan_count" integer,
	"baseline" "bytea",
	"set_at" timestamp (3) with time zone NOT NULL,
	"set_by" text NOT NULL,
	"valid_from" timestamp (3) with time zone,
	"decided_at" timestamp (3) with time zone,
	"decided_by" text,
	"decision_note" text,
	CONSTRAINT "baseline_pins_chamber_analyser_id_pk" PRIMARY KEY("chamber","analyser","id")
);
--> statement-breakpoint
CREATE TABLE "rationalisations" (
	"signature" text NOT NULL,
	"kind" text NOT NULL,
	"version" integer NOT NULL,
	"record" jsonb NOT NULL,
	"note" text NOT NULL,
	"set_at" timestamp (3) with time zone NOT NULL,
	"set_by" text NOT NULL,
	CONSTRAINT "rationalisations_signature_kind_version_pk" PRIMARY KEY("signature","kind","version")
);
--> statement-breakpoint
CREATE TABLE "rehearsals" (
	"id" text PRIMARY KEY NOT NULL,
	"request" jsonb NOT NULL,
	"asked_at" timestamp (3) with time zone NOT NULL,
	"asked_by" text NOT NULL
);
--> statement-breakpoint
CREATE TABLE "service_breaks" (
	"chamber" text NOT NULL,
	"signature" text NOT NULL,
	"until" timestamp (3) with time zone NOT NULL,
	"reason" text NOT NULL,
	"set_at" timestamp (3) with time zone NOT NULL,
	"set_by" text NOT NULL,
	CONSTRAINT "service_breaks_chamber_signature_pk" PRIMARY KEY("chamber","signature")
);
--> statement-breakpoint
CREATE TABLE "signature_examples" (
	"id" text PRIMARY KEY NOT NULL,
	"chamber" text NOT NULL,
	"alert" text NOT NULL,
	"chamber_kind" text,
	"claimed" text NOT NULL,
	"verified" text NOT NULL,
	"example" jsonb NOT NULL,
	"note" text NOT NULL,
	"set_at" timestamp (3) with time zone NOT NULL,
	"set_by" text NOT NULL,
	"withdrawn_at" timestamp (3) with time zone,
	"withdrawn_by" text,
	"check" jsonb,
	CONSTRAINT "signature_examples_alert_unique" UNIQUE("alert")
);
--> statement-breakpoint
DROP INDEX "alerts_shelved";--> statement-breakpoint
ALTER TABLE "alerts" ADD COLUMN "latching" boolean DEFAULT false NOT NULL;--> statement-breakpoint
ALTER TABLE "alerts" ADD COLUMN "re_alarm_hours" real;--> statement-breakpoint
ALTER TABLE "alerts" ADD COLUMN "responder" text DEFAULT 'operator' NOT NULL;--> statement-breakpoint
ALTER TABLE "alerts" ADD COLUMN "rationalisation_version" integer DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "alerts" ADD COLUMN "state_before" text;--> statement-breakpoint
ALTER TABLE "alerts" ADD COLUMN "suppressed_since" timestamp (3) with time zone;--> statement-breakpoint
ALTER TABLE "alerts" ADD COLUMN "suppressed_reason" text;--> statement-breakpoint
ALTER TABLE "alerts" ADD COLUMN "out_of_service_until" timestamp (3) with time zone;--> statement-breakpoint
ALTER TABLE "alerts" ADD COLUMN "out_of_service_reason" text;--> statement-breakpoint
ALTER TABLE "alerts" ADD COLUMN "out_of_service_by" text;--> statement-breakpoint
ALTER TABLE "alerts" ADD COLUMN "shelvings" integer DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "alerts" ADD COLUMN "verified" text;--> statement-breakpoint
ALTER TABLE "latest" ADD COLUMN "courses" jsonb;--> statement-breakpoint
ALTER TABLE "tasks" ADD COLUMN "rehearsal" text;--> statement-breakpoint
ALTER TABLE "tasks" ADD COLUMN "result" jsonb;--> statement-breakpoint
CREATE UNIQUE INDEX "baseline_pins_id" ON "baseline_pins" USING btree ("id");--> statement-breakpoint
CREATE UNIQUE INDEX "baseline_pins_version" ON "baseline_pins" USING btree ("chamber","analyser","operating_state","version");--> statement-breakpoint
CREATE INDEX "signature_examples_kind" ON "signature_examples" USING btree ("chamber_kind");--> statement-breakpoint
CREATE INDEX "alert_moves_at" ON "alert_moves" USING btree ("at");--> statement-breakpoint
CREATE INDEX "alerts_out_of_service" ON "alerts" USING btree ("out_of_service_until") WHERE state = 'out-of-service';--> statement-breakpoint
CREATE INDEX "alerts_re_alarm" ON "alerts" USING btree ("acknowledged_at") WHERE state = 'acknowledged' and re_alarm_hours is not null;--> statement-breakpoint
CREATE INDEX "alerts_closed" ON "alerts" USING btree ("closed_at") WHERE closed_at is not null;--> statement-breakpoint
CREATE INDEX "tasks_rehearsal" ON "tasks" USING btree ("rehearsal") WHERE rehearsal is not null;--> statement-breakpoint
CREATE INDEX "alerts_shelved" ON "alerts" USING btree ("shelved_until") WHERE shelved_until is not null;