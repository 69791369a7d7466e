-- The customer's choice between repair and replacement is kept wherever the law gives it, also where it asks for no notice.
ALTER TABLE "LegalNoticeShown" DROP CONSTRAINT "LegalNoticeShown_values";
ALTER TABLE "LegalNoticeShown"
  ADD CONSTRAINT "LegalNoticeShown_values" CHECK ("kind" IN ('choice-and-extension', 'choice-of-remedy', 'refurbished-on-request')
    AND ("choice" IS NULL OR "choice" IN ('repair', 'replacement', 'refurbished', 'no-choice')));
