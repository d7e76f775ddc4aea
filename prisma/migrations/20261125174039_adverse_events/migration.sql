-- CreateEnum
CREATE TYPE "EventDecision" AS ENUM ('reported', 'not_to_report');

-- CreateTable
CREATE TABLE "event_consideration" (
    "clinic_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "implantation_id" UUID NOT NULL,
    "decision" "EventDecision" NOT NULL,
    "reference" TEXT,
    "why" TEXT NOT NULL,
    "decided_at" TIMESTAMPTZ(3) NOT NULL,
    "decided_by" UUID NOT NULL,

    CONSTRAINT "event_consideration_pkey" PRIMARY KEY ("clinic_id","id")
);

-- CreateIndex
CREATE UNIQUE INDEX "event_consideration_clinic_id_implantation_id_key" ON "event_consideration"("clinic_id", "implantation_id");

-- AddForeignKey
ALTER TABLE "event_consideration" ADD CONSTRAINT "event_consideration_clinic_id_implantation_id_fkey" FOREIGN KEY ("clinic_id", "implantation_id") REFERENCES "implantation"("clinic_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- A clinic's own, seen by nobody else; a decision is only ever added to the record, never changed.
alter table event_consideration enable row level security;
alter table event_consideration force row level security;
create policy clinic on event_consideration to lensferry_app
  using (clinic_id = any ((select app_clinic_ids())::uuid[]))
  with check (clinic_id = any ((select app_clinic_ids())::uuid[]));
grant select, insert on event_consideration to lensferry_app;
revoke update on event_consideration from lensferry_app;
