-- CreateTable
CREATE TABLE "model_proposal" (
    "id" UUID NOT NULL,
    "design_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "state" TEXT NOT NULL,
    "based_on" INTEGER NOT NULL,
    "model" JSONB NOT NULL,
    "check" JSONB NOT NULL,
    "why" TEXT NOT NULL,
    "proposed_by" TEXT NOT NULL,
    "proposed_by_id" UUID NOT NULL,
    "proposed_at" TIMESTAMPTZ(3) NOT NULL,
    "signed_by" TEXT,
    "signed_by_id" UUID,
    "signed_at" TIMESTAMPTZ(3),
    "version" INTEGER,

    CONSTRAINT "model_proposal_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "model_proposal_design_id_version_key" ON "model_proposal"("design_id", "version");

-- AddForeignKey
ALTER TABLE "model_proposal" ADD CONSTRAINT "model_proposal_design_id_fkey" FOREIGN KEY ("design_id") REFERENCES "design"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- Of the network, as designs are: coefficients and errors of all eyes together, and no eye.
alter table model_proposal enable row level security;
alter table model_proposal force row level security;
create policy network on model_proposal using (true) with check (true);
grant select, insert, update on model_proposal to lensferry_app;
-- One is open for a design at a time.
create unique index one_open_proposal on model_proposal (design_id) where state = 'open';
