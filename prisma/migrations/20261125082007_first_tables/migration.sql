-- CreateEnum
CREATE TYPE "Eye" AS ENUM ('OD', 'OS');

-- CreateEnum
CREATE TYPE "CaseStage" AS ENUM ('assessing', 'stabilising', 'planning', 'awaiting_approval', 'on_order', 'lens_here', 'implanted', 'follow_up', 'closed', 'withdrawn');

-- CreateEnum
CREATE TYPE "MeasurementKind" AS ENUM ('refraction', 'keratometry', 'chamber', 'dimensions', 'health', 'lens_wear', 'procedure', 'vault', 'lens_axis');

-- CreateEnum
CREATE TYPE "LensState" AS ENUM ('in_stock', 'quarantined', 'reserved', 'implanted', 'explanted', 'returning', 'returned', 'credited', 'expired', 'discarded');

-- CreateEnum
CREATE TYPE "ExchangeReason" AS ENUM ('vault_high', 'vault_low', 'edge_capture', 'rotation', 'refractive', 'damage', 'wrong_lens');

-- CreateEnum
CREATE TYPE "ReturnState" AS ENUM ('requested', 'authorised', 'handed_over', 'received', 'credited', 'written_off');

-- CreateEnum
CREATE TYPE "Role" AS ENUM ('surgeon', 'coordinator', 'inventory', 'administrator', 'auditor');

-- CreateEnum
CREATE TYPE "Channel" AS ENUM ('https', 'by_hand');

-- CreateEnum
CREATE TYPE "OrderState" AS ENUM ('draft', 'submitted', 'changes_requested', 'approved', 'queued', 'sent', 'send_failed', 'disputed', 'acknowledged', 'shipped', 'arrived', 'accepted', 'quarantined', 'rejected', 'declined', 'cancelled');

-- CreateTable
CREATE TABLE "patient" (
    "clinic_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "code_name" TEXT NOT NULL,
    "birth_year" INTEGER NOT NULL,

    CONSTRAINT "patient_pkey" PRIMARY KEY ("clinic_id","id")
);

-- CreateTable
CREATE TABLE "patient_identity" (
    "clinic_id" UUID NOT NULL,
    "patient_id" UUID NOT NULL,
    "sealed" TEXT NOT NULL,

    CONSTRAINT "patient_identity_pkey" PRIMARY KEY ("clinic_id","patient_id")
);

-- CreateTable
CREATE TABLE "eye_case" (
    "clinic_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "code" TEXT NOT NULL,
    "patient_id" UUID NOT NULL,
    "eye" "Eye" NOT NULL,
    "surgeon_id" UUID NOT NULL,
    "stage" "CaseStage" NOT NULL,
    "stage_since" TIMESTAMPTZ(3) NOT NULL,
    "awaited" TEXT NOT NULL,
    "round" INTEGER NOT NULL DEFAULT 1,
    "theatre_on" DATE,
    "opened_at" TIMESTAMPTZ(3) NOT NULL,
    "closed_at" TIMESTAMPTZ(3),
    "withdrawn_at" TIMESTAMPTZ(3),
    "withdrawn_why" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "eye_case_pkey" PRIMARY KEY ("clinic_id","id")
);

-- CreateTable
CREATE TABLE "measurement" (
    "clinic_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "case_id" UUID NOT NULL,
    "kind" "MeasurementKind" NOT NULL,
    "taken_on" DATE NOT NULL,
    "device" TEXT NOT NULL,
    "observer" TEXT NOT NULL,
    "values" JSONB NOT NULL,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL,
    "recorded_by" UUID NOT NULL,
    "corrects" UUID,
    "why" TEXT,

    CONSTRAINT "measurement_pkey" PRIMARY KEY ("clinic_id","id")
);

-- CreateTable
CREATE TABLE "lens_unit" (
    "clinic_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "maker_id" UUID NOT NULL,
    "serial" TEXT NOT NULL,
    "lot" TEXT,
    "gtin" TEXT,
    "expires_on" DATE NOT NULL,
    "lens" JSONB NOT NULL,
    "label_text" TEXT NOT NULL,
    "order_id" UUID NOT NULL,
    "case_id" UUID,
    "state" "LensState" NOT NULL,
    "state_since" TIMESTAMPTZ(3) NOT NULL,
    "location" TEXT NOT NULL,
    "received_at" TIMESTAMPTZ(3) NOT NULL,
    "received_by" UUID NOT NULL,
    "quarantine_why" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "lens_unit_pkey" PRIMARY KEY ("clinic_id","id")
);

-- CreateTable
CREATE TABLE "implantation" (
    "clinic_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "case_id" UUID NOT NULL,
    "lens_id" UUID NOT NULL,
    "surgeon_id" UUID NOT NULL,
    "performed_on" DATE NOT NULL,
    "axis_deg" INTEGER NOT NULL,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL,
    "explanted_on" DATE,
    "explant_why" TEXT,

    CONSTRAINT "implantation_pkey" PRIMARY KEY ("clinic_id","id")
);

-- CreateTable
CREATE TABLE "exchange" (
    "clinic_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "case_id" UUID NOT NULL,
    "lens_id" UUID NOT NULL,
    "round" INTEGER NOT NULL,
    "reason" "ExchangeReason" NOT NULL,
    "evidence" JSONB NOT NULL,
    "proposal" JSONB NOT NULL,
    "opened_at" TIMESTAMPTZ(3) NOT NULL,
    "opened_by" UUID NOT NULL,
    "ended_at" TIMESTAMPTZ(3),
    "ended_why" TEXT,

    CONSTRAINT "exchange_pkey" PRIMARY KEY ("clinic_id","id")
);

-- CreateTable
CREATE TABLE "lens_return" (
    "clinic_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "number" TEXT NOT NULL,
    "lens_id" UUID NOT NULL,
    "maker_id" UUID NOT NULL,
    "reason" TEXT NOT NULL,
    "state" "ReturnState" NOT NULL,
    "state_since" TIMESTAMPTZ(3) NOT NULL,
    "window_closes_on" DATE NOT NULL,
    "authorisation" TEXT,
    "tracking" TEXT,
    "credit_expected" DECIMAL(12,2) NOT NULL,
    "credit_got" DECIMAL(12,2),
    "currency" TEXT NOT NULL,
    "note" TEXT,
    "opened_at" TIMESTAMPTZ(3) NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "lens_return_pkey" PRIMARY KEY ("clinic_id","id")
);

-- CreateTable
CREATE TABLE "clinic" (
    "id" UUID NOT NULL,
    "code" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "time_zone" TEXT NOT NULL,

    CONSTRAINT "clinic_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "person" (
    "id" UUID NOT NULL,
    "email" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "role" "Role" NOT NULL,
    "password_hash" TEXT NOT NULL,
    "active_until" TIMESTAMPTZ(3),

    CONSTRAINT "person_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "clinic_member" (
    "clinic_id" UUID NOT NULL,
    "person_id" UUID NOT NULL,

    CONSTRAINT "clinic_member_pkey" PRIMARY KEY ("clinic_id","person_id")
);

-- CreateTable
CREATE TABLE "session" (
    "token_hash" TEXT NOT NULL,
    "person_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "last_seen_at" TIMESTAMPTZ(3) NOT NULL,
    "expires_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "session_pkey" PRIMARY KEY ("token_hash")
);

-- CreateTable
CREATE TABLE "sign_in_attempt" (
    "id" UUID NOT NULL,
    "email" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "failed" BOOLEAN NOT NULL,

    CONSTRAINT "sign_in_attempt_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "network_setting" (
    "key" TEXT NOT NULL,
    "value" JSONB NOT NULL,

    CONSTRAINT "network_setting_pkey" PRIMARY KEY ("key")
);

-- CreateTable
CREATE TABLE "maker" (
    "id" UUID NOT NULL,
    "code" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "channel" "Channel" NOT NULL,
    "endpoint" TEXT,
    "secret_sealed" TEXT,
    "time_zone" TEXT NOT NULL,
    "currency" TEXT NOT NULL,
    "return_window_days" INTEGER NOT NULL,
    "contact" TEXT NOT NULL,
    "holidays" JSONB NOT NULL,

    CONSTRAINT "maker_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "design" (
    "id" UUID NOT NULL,
    "maker_id" UUID NOT NULL,
    "code" TEXT NOT NULL,
    "name" TEXT NOT NULL,

    CONSTRAINT "design_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "design_version" (
    "id" UUID NOT NULL,
    "design_id" UUID NOT NULL,
    "version" INTEGER NOT NULL,
    "valid_from" DATE NOT NULL,
    "sheet" JSONB NOT NULL,

    CONSTRAINT "design_version_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "plan" (
    "clinic_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "case_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "round" INTEGER NOT NULL,
    "design_version_id" UUID NOT NULL,
    "input" JSONB NOT NULL,
    "result" JSONB NOT NULL,
    "choice" JSONB NOT NULL,
    "made_at" TIMESTAMPTZ(3) NOT NULL,
    "made_by" UUID NOT NULL,

    CONSTRAINT "plan_pkey" PRIMARY KEY ("clinic_id","id")
);

-- CreateTable
CREATE TABLE "lens_order" (
    "clinic_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "number" TEXT NOT NULL,
    "case_id" UUID NOT NULL,
    "round" INTEGER NOT NULL,
    "plan_id" UUID NOT NULL,
    "maker_id" UUID NOT NULL,
    "design_version_id" UUID NOT NULL,
    "state" "OrderState" NOT NULL,
    "state_since" TIMESTAMPTZ(3) NOT NULL,
    "specification" JSONB NOT NULL,
    "specification_hash" TEXT NOT NULL,
    "submitted_specification" JSONB,
    "replaces_lens_id" UUID,
    "quoted_days" INTEGER NOT NULL,
    "price" DECIMAL(12,2) NOT NULL,
    "currency" TEXT NOT NULL,
    "need_by" DATE,
    "placed_at" TIMESTAMPTZ(3),
    "sent_at" TIMESTAMPTZ(3),
    "acknowledged_at" TIMESTAMPTZ(3),
    "promised_on" DATE,
    "first_promised_on" DATE,
    "shipped_at" TIMESTAMPTZ(3),
    "expected_on" DATE,
    "tracking" TEXT,
    "announced_unit" JSONB,
    "arrived_at" TIMESTAMPTZ(3),
    "ended_at" TIMESTAMPTZ(3),
    "note" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "opened_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "lens_order_pkey" PRIMARY KEY ("clinic_id","id")
);

-- CreateTable
CREATE TABLE "signature" (
    "clinic_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "order_id" UUID NOT NULL,
    "specification_hash" TEXT NOT NULL,
    "signer_id" UUID NOT NULL,
    "signer_name" TEXT NOT NULL,
    "meaning" TEXT NOT NULL,
    "reasons" JSONB NOT NULL,
    "signed_at" TIMESTAMPTZ(3) NOT NULL,
    "voided_at" TIMESTAMPTZ(3),
    "voided_why" TEXT,

    CONSTRAINT "signature_pkey" PRIMARY KEY ("clinic_id","id")
);

-- CreateTable
CREATE TABLE "delivery" (
    "clinic_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "order_id" UUID,
    "return_id" UUID,
    "attempt" INTEGER NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "status" INTEGER,
    "outcome" TEXT NOT NULL,

    CONSTRAINT "delivery_pkey" PRIMARY KEY ("clinic_id","id")
);

-- CreateTable
CREATE TABLE "maker_message" (
    "maker_id" UUID NOT NULL,
    "message_id" TEXT NOT NULL,
    "clinic_id" UUID NOT NULL,
    "received_at" TIMESTAMPTZ(3) NOT NULL,
    "message" JSONB NOT NULL,

    CONSTRAINT "maker_message_pkey" PRIMARY KEY ("maker_id","message_id")
);

-- CreateTable
CREATE TABLE "audit_entry" (
    "clinic_id" UUID NOT NULL,
    "seq" BIGINT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "actor_id" UUID,
    "actor_name" TEXT NOT NULL,
    "actor_kind" TEXT NOT NULL,
    "action" TEXT NOT NULL,
    "case_id" UUID,
    "order_id" UUID,
    "lens_id" UUID,
    "facts" JSONB NOT NULL,
    "why" TEXT,
    "prev" TEXT NOT NULL,
    "hash" TEXT NOT NULL,

    CONSTRAINT "audit_entry_pkey" PRIMARY KEY ("clinic_id","seq")
);

-- CreateTable
CREATE TABLE "audit_head" (
    "clinic_id" UUID NOT NULL,
    "seq" BIGINT NOT NULL,
    "hash" TEXT NOT NULL,

    CONSTRAINT "audit_head_pkey" PRIMARY KEY ("clinic_id")
);

-- CreateTable
CREATE TABLE "counter" (
    "clinic_id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "value" INTEGER NOT NULL,

    CONSTRAINT "counter_pkey" PRIMARY KEY ("clinic_id","name")
);

-- CreateTable
CREATE TABLE "outbox_event" (
    "clinic_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "topic" TEXT NOT NULL,
    "payload" JSONB NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "published_at" TIMESTAMPTZ(3),
    "done_at" TIMESTAMPTZ(3),

    CONSTRAINT "outbox_event_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "patient_clinic_id_code_name_key" ON "patient"("clinic_id", "code_name");

-- CreateIndex
CREATE UNIQUE INDEX "eye_case_code_key" ON "eye_case"("code");

-- CreateIndex
CREATE INDEX "eye_case_clinic_id_stage_idx" ON "eye_case"("clinic_id", "stage");

-- CreateIndex
CREATE UNIQUE INDEX "eye_case_clinic_id_patient_id_eye_key" ON "eye_case"("clinic_id", "patient_id", "eye");

-- CreateIndex
CREATE INDEX "measurement_clinic_id_case_id_kind_idx" ON "measurement"("clinic_id", "case_id", "kind");

-- CreateIndex
CREATE UNIQUE INDEX "measurement_clinic_id_corrects_key" ON "measurement"("clinic_id", "corrects");

-- CreateIndex
CREATE INDEX "lens_unit_clinic_id_state_idx" ON "lens_unit"("clinic_id", "state");

-- CreateIndex
CREATE UNIQUE INDEX "lens_unit_maker_id_serial_key" ON "lens_unit"("maker_id", "serial");

-- CreateIndex
CREATE INDEX "implantation_clinic_id_case_id_idx" ON "implantation"("clinic_id", "case_id");

-- CreateIndex
CREATE UNIQUE INDEX "exchange_clinic_id_case_id_round_key" ON "exchange"("clinic_id", "case_id", "round");

-- CreateIndex
CREATE UNIQUE INDEX "lens_return_number_key" ON "lens_return"("number");

-- CreateIndex
CREATE INDEX "lens_return_clinic_id_state_idx" ON "lens_return"("clinic_id", "state");

-- CreateIndex
CREATE UNIQUE INDEX "clinic_code_key" ON "clinic"("code");

-- CreateIndex
CREATE UNIQUE INDEX "clinic_name_key" ON "clinic"("name");

-- CreateIndex
CREATE UNIQUE INDEX "person_email_key" ON "person"("email");

-- CreateIndex
CREATE INDEX "session_person_id_idx" ON "session"("person_id");

-- CreateIndex
CREATE INDEX "sign_in_attempt_email_at_idx" ON "sign_in_attempt"("email", "at");

-- CreateIndex
CREATE UNIQUE INDEX "maker_code_key" ON "maker"("code");

-- CreateIndex
CREATE UNIQUE INDEX "maker_name_key" ON "maker"("name");

-- CreateIndex
CREATE UNIQUE INDEX "design_code_key" ON "design"("code");

-- CreateIndex
CREATE UNIQUE INDEX "design_version_design_id_version_key" ON "design_version"("design_id", "version");

-- CreateIndex
CREATE UNIQUE INDEX "plan_clinic_id_case_id_number_key" ON "plan"("clinic_id", "case_id", "number");

-- CreateIndex
CREATE UNIQUE INDEX "lens_order_number_key" ON "lens_order"("number");

-- CreateIndex
CREATE INDEX "lens_order_clinic_id_state_idx" ON "lens_order"("clinic_id", "state");

-- CreateIndex
CREATE INDEX "lens_order_clinic_id_case_id_idx" ON "lens_order"("clinic_id", "case_id");

-- CreateIndex
CREATE INDEX "signature_clinic_id_order_id_idx" ON "signature"("clinic_id", "order_id");

-- CreateIndex
CREATE INDEX "delivery_clinic_id_order_id_idx" ON "delivery"("clinic_id", "order_id");

-- CreateIndex
CREATE INDEX "maker_message_clinic_id_idx" ON "maker_message"("clinic_id");

-- CreateIndex
CREATE INDEX "audit_entry_clinic_id_case_id_idx" ON "audit_entry"("clinic_id", "case_id");

-- CreateIndex
CREATE INDEX "audit_entry_clinic_id_order_id_idx" ON "audit_entry"("clinic_id", "order_id");

-- CreateIndex
CREATE INDEX "outbox_event_published_at_idx" ON "outbox_event"("published_at");

-- AddForeignKey
ALTER TABLE "patient" ADD CONSTRAINT "patient_clinic_id_fkey" FOREIGN KEY ("clinic_id") REFERENCES "clinic"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "patient_identity" ADD CONSTRAINT "patient_identity_clinic_id_patient_id_fkey" FOREIGN KEY ("clinic_id", "patient_id") REFERENCES "patient"("clinic_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "eye_case" ADD CONSTRAINT "eye_case_clinic_id_patient_id_fkey" FOREIGN KEY ("clinic_id", "patient_id") REFERENCES "patient"("clinic_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "measurement" ADD CONSTRAINT "measurement_clinic_id_case_id_fkey" FOREIGN KEY ("clinic_id", "case_id") REFERENCES "eye_case"("clinic_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "lens_unit" ADD CONSTRAINT "lens_unit_clinic_id_order_id_fkey" FOREIGN KEY ("clinic_id", "order_id") REFERENCES "lens_order"("clinic_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "implantation" ADD CONSTRAINT "implantation_clinic_id_case_id_fkey" FOREIGN KEY ("clinic_id", "case_id") REFERENCES "eye_case"("clinic_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "implantation" ADD CONSTRAINT "implantation_clinic_id_lens_id_fkey" FOREIGN KEY ("clinic_id", "lens_id") REFERENCES "lens_unit"("clinic_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "exchange" ADD CONSTRAINT "exchange_clinic_id_case_id_fkey" FOREIGN KEY ("clinic_id", "case_id") REFERENCES "eye_case"("clinic_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "lens_return" ADD CONSTRAINT "lens_return_clinic_id_lens_id_fkey" FOREIGN KEY ("clinic_id", "lens_id") REFERENCES "lens_unit"("clinic_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "clinic_member" ADD CONSTRAINT "clinic_member_clinic_id_fkey" FOREIGN KEY ("clinic_id") REFERENCES "clinic"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "clinic_member" ADD CONSTRAINT "clinic_member_person_id_fkey" FOREIGN KEY ("person_id") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "session" ADD CONSTRAINT "session_person_id_fkey" FOREIGN KEY ("person_id") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "design" ADD CONSTRAINT "design_maker_id_fkey" FOREIGN KEY ("maker_id") REFERENCES "maker"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "design_version" ADD CONSTRAINT "design_version_design_id_fkey" FOREIGN KEY ("design_id") REFERENCES "design"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "plan" ADD CONSTRAINT "plan_clinic_id_case_id_fkey" FOREIGN KEY ("clinic_id", "case_id") REFERENCES "eye_case"("clinic_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "lens_order" ADD CONSTRAINT "lens_order_clinic_id_case_id_fkey" FOREIGN KEY ("clinic_id", "case_id") REFERENCES "eye_case"("clinic_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "signature" ADD CONSTRAINT "signature_clinic_id_order_id_fkey" FOREIGN KEY ("clinic_id", "order_id") REFERENCES "lens_order"("clinic_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "delivery" ADD CONSTRAINT "delivery_clinic_id_order_id_fkey" FOREIGN KEY ("clinic_id", "order_id") REFERENCES "lens_order"("clinic_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;
