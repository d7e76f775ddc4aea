-- AlterTable
ALTER TABLE "patient_identity" ADD COLUMN     "erased_at" TIMESTAMPTZ(3);

-- AlterTable
ALTER TABLE "person" ADD COLUMN     "totp_confirmed_at" TIMESTAMPTZ(3),
ADD COLUMN     "totp_last_step" INTEGER,
ADD COLUMN     "totp_sealed" TEXT;

-- AlterTable
ALTER TABLE "session" ADD COLUMN     "device" TEXT NOT NULL DEFAULT '',
ADD COLUMN     "id" UUID NOT NULL DEFAULT gen_random_uuid();

-- CreateTable
CREATE TABLE "recovery_code" (
    "person_id" UUID NOT NULL,
    "code_hash" TEXT NOT NULL,
    "used_at" TIMESTAMPTZ(3),

    CONSTRAINT "recovery_code_pkey" PRIMARY KEY ("person_id","code_hash")
);

-- CreateTable
CREATE TABLE "invitation" (
    "id" UUID NOT NULL,
    "token_hash" TEXT NOT NULL,
    "person_id" UUID,
    "email" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "role" "Role" NOT NULL,
    "clinic_ids" UUID[],
    "invited_by" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "expires_at" TIMESTAMPTZ(3) NOT NULL,
    "used_at" TIMESTAMPTZ(3),
    "withdrawn_at" TIMESTAMPTZ(3),

    CONSTRAINT "invitation_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "invitation_token_hash_key" ON "invitation"("token_hash");

-- CreateIndex
CREATE INDEX "invitation_email_idx" ON "invitation"("email");

-- CreateIndex
CREATE UNIQUE INDEX "session_id_key" ON "session"("id");

-- AddForeignKey
ALTER TABLE "recovery_code" ADD CONSTRAINT "recovery_code_person_id_fkey" FOREIGN KEY ("person_id") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
