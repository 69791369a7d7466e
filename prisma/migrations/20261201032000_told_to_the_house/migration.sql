-- CreateTable
CREATE TABLE "NoticeRead" (
    "noticeId" UUID NOT NULL,
    "userId" TEXT NOT NULL,
    "readAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "NoticeRead_pkey" PRIMARY KEY ("noticeId","userId")
);

-- CreateIndex
CREATE INDEX "Notice_audienceRole_queuedAt_idx" ON "Notice"("audienceRole", "queuedAt");

-- AddForeignKey
ALTER TABLE "NoticeRead" ADD CONSTRAINT "NoticeRead_noticeId_fkey" FOREIGN KEY ("noticeId") REFERENCES "Notice"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- Whoever holds an office reads what is told to it, also who sees nothing else of a case.
CREATE POLICY "to_its_office" ON "Notice" FOR SELECT USING ("audienceRole" = (SELECT bench_role()));

-- Of what goes to an office of the house, that somebody has read it: written once, seen by whoever may see the notice.
ALTER TABLE "NoticeRead" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "NoticeRead" FORCE ROW LEVEL SECURITY;
CREATE POLICY "of_a_notice_to_the_house" ON "NoticeRead" FOR SELECT
  USING (EXISTS (SELECT 1 FROM "Notice" n WHERE n."id" = "NoticeRead"."noticeId" AND n."audienceRole" IS NOT NULL));
CREATE POLICY "read_by_the_house" ON "NoticeRead" FOR INSERT
  WITH CHECK (EXISTS (SELECT 1 FROM "Notice" n WHERE n."id" = "NoticeRead"."noticeId" AND n."audienceRole" IS NOT NULL));
GRANT SELECT, INSERT ON "NoticeRead" TO bench_actor;
