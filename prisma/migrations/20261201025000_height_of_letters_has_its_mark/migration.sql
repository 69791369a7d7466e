-- The height of a mark's letters was shown under the source of its words, and none of those heights was read anywhere. What the
-- program came with gets a mark for each height, as long as nobody relies on it: no class was declared under it and no adviser
-- has confirmed it. Any other version stays as it was approved, word by word; its heights are shown as not compared.
SELECT set_config('bench.role', 'system', false);
ALTER TABLE "TransportRuleVersion" DISABLE TRIGGER "TransportRuleVersion_never_edited";
DO $do$
DECLARE
  height jsonb;
BEGIN
  FOR height IN SELECT * FROM jsonb_array_elements($heights$
[
 {"at": ["tracks", "0", "damaged", "marks", "2", "heightMark"], "mark": {"kind": "from-memory", "compareWith": "ADR 5.2.1.1"}},
 {"at": ["tracks", "0", "notDamaged", "marks", "1", "heightMark"], "mark": {"kind": "from-memory", "compareWith": "ADR 5.2.1.1"}},
 {"at": ["tracks", "1", "damaged", "marks", "0", "heightMark"], "mark": {"kind": "from-memory", "compareWith": "49 CFR 173.185(f)"}},
 {"at": ["tracks", "2", "damaged", "marks", "2", "heightMark"], "mark": {"kind": "from-memory", "compareWith": "ADR 5.2.1.1"}},
 {"at": ["tracks", "2", "notDamaged", "marks", "1", "heightMark"], "mark": {"kind": "from-memory", "compareWith": "ADR 5.2.1.1"}}
]
$heights$::jsonb) LOOP
    UPDATE "TransportRuleVersion"
    SET "content" = jsonb_set("content", ARRAY(SELECT jsonb_array_elements_text(height -> 'at')), height -> 'mark')
    WHERE "version" = '2026-1' AND "proposedByUserId" IS NULL
      AND NOT EXISTS (SELECT 1 FROM "ClassDeclaration" WHERE "ruleVersion" = '2026-1')
      AND NOT EXISTS (SELECT 1 FROM "TransportRuleConfirmation" WHERE "version" = '2026-1');
  END LOOP;
END $do$;
ALTER TABLE "TransportRuleVersion" ENABLE TRIGGER "TransportRuleVersion_never_edited";
SELECT set_config('bench.role', '', false);
