CREATE TABLE "chamber_notes" (
	"id" text PRIMARY KEY NOT NULL,
	"chamber" text NOT NULL,
	"at" timestamp (3) with time zone NOT NULL,
	"text" text NOT NULL,
	"made_at" timestamp (3) with time zone NOT NULL,
	"made_by" text NOT NULL,
	"withdrawn_at" timestamp (3) with time zone,
	"withdrawn_by" text
);
--> statement-breakpoint
CREATE TABLE "handover_entries" (
	"area" text NOT NULL,
	"id" text NOT NULL,
	"kind" text NOT NULL,
	"chamber" text,
	"text" text NOT NULL,
	"due_at" timestamp (3) with time zone,
	"set_at" timestamp (3) with time zone NOT NULL,
	"set_by" text NOT NULL,
	"done_at" timestamp (3) with time zone,
	"done_by" text,
	"done_note" text,
	CONSTRAINT "handover_entries_area_id_pk" PRIMARY KEY("area","id")
);
--> statement-breakpoint
ALTER TABLE "sessions" ALTER COLUMN "login" DROP NOT NULL;--> statement-breakpoint
ALTER TABLE "people" ADD COLUMN "preferences" jsonb DEFAULT '{}'::jsonb NOT NULL;--> statement-breakpoint
ALTER TABLE "rounds" ADD COLUMN "signed_as" text;--> statement-breakpoint
ALTER TABLE "rounds" ADD COLUMN "handover" jsonb;--> statement-breakpoint
ALTER TABLE "rounds" ADD COLUMN "countersigned_at" timestamp (3) with time zone;--> statement-breakpoint
ALTER TABLE "rounds" ADD COLUMN "countersigned_by" text;--> statement-breakpoint
ALTER TABLE "rounds" ADD COLUMN "countersigned_as" text;--> statement-breakpoint
ALTER TABLE "rounds" ADD COLUMN "countersigned_note" text;--> statement-breakpoint
ALTER TABLE "sessions" ADD COLUMN "token" text;--> statement-breakpoint
CREATE INDEX "chamber_notes_at" ON "chamber_notes" USING btree ("chamber","at");--> statement-breakpoint
CREATE UNIQUE INDEX "handover_entries_id" ON "handover_entries" USING btree ("id");--> statement-breakpoint
CREATE INDEX "handover_entries_open" ON "handover_entries" USING btree ("area") WHERE done_at is null;--> statement-breakpoint
CREATE INDEX "handover_entries_chamber" ON "handover_entries" USING btree ("chamber","set_at");--> statement-breakpoint
CREATE UNIQUE INDEX "rounds_id" ON "rounds" USING btree ("id");