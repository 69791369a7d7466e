import type { Transaction } from "@/lib/data/database";
import { policyColumns } from "@/lib/data/warranty/policy-columns";
import { type CalendarDate, calendarDate } from "@/lib/warranty/calendar";
import { storyCalendar, storyDataDate } from "@/seed/scenario/story-calendar";
import { demoPolicies } from "@/seed/warranty-policies";

/** Nothing in a made fleet was lodged after this day. */
export const madeFleetDataDate: CalendarDate = calendarDate("2026-11-01");

/** A number from 0 to 1 that is the same for the same pack and purpose on every run and machine. */
const chance = (subject: string, purpose: number) =>
  `(abs(hashtextextended((${subject})::text, ${purpose})) % 1000003) / 1000003.0`;
/** Days of an exponential time with this mean. */
const wait = (subject: string, purpose: number, meanDays: string) =>
  `floor(-(${meanDays}) * ln(1 - ${chance(subject, purpose)}))::int`;
const today = `'${madeFleetDataDate}'::date`;

/**
 * A fleet of any size made inside the database: three models of four revisions over three years, eight dealers in five
 * countries, lots of every kind, about one return for ten packs, replacements, and a few records that contradict
 * themselves. Made by a handful of set-based statements, the same every time.
 */
export async function makeFleet(tx: Transaction, packs: number): Promise<void> {
  await tx.warrantyPolicy.createMany({
    data: demoPolicies(storyCalendar(storyDataDate)).map(policyColumns),
  });
  for (const statement of statements(packs)) await tx.$executeRawUnsafe(statement);
}

function statements(packs: number): string[] {
  return [
    `INSERT INTO "Dealer" ("id", "code", "name", "town", "country", "timeZone", "joinedOn")
     SELECT md5('dealer' || i)::uuid, 'D' || i, 'Dealer ' || i, 'Town ' || i, (ARRAY['DE','PT','US','AU','IN'])[1 + i % 5], (ARRAY['UTC', 'America/Los_Angeles', 'Pacific/Kiritimati'])[1 + i % 3],
       CASE WHEN i = 3 THEN '2025-03-01'::date ELSE '2023-01-01'::date END FROM generate_series(1, 8) i`,
    `INSERT INTO "PackModel" ("id", "code", "name", "chemistry", "seriesCount", "parallelCount", "ratedCapacityAh", "ratedVoltageV",
       "cellMaxV", "cellMinV", "continuousDischargeA", "peakDischargeA", "peakSeconds", "chargeMaxA", "chargeMinTemperatureC",
       "chargeMaxTemperatureC", "cyclesTo80Percent", "massKg")
     SELECT md5('model' || i)::uuid, 'M' || chr(64 + i), 'Model ' || chr(64 + i), 'NMC/graphite', 16, 1, 40, 58, 4.2, 2.8, 120, 240, 10, 40,
       0, 45, 1000, 17 FROM generate_series(1, 3) i`,
    `INSERT INTO "Revision" ("id", "modelId", "code", "ordinal", "changes", "potted", "cellsRepairable", "boardHardware", "firmware",
       "introducedOn", "supersededOn", "testSummaryReference")
     SELECT md5('revision' || i)::uuid, md5('model' || (1 + i % 3))::uuid, 'M' || chr(65 + i % 3) || '-' || (1 + i / 3), 1 + i / 3, '[]', false,
       true, 'H' || (1 + i / 6), '1.' || i, '2023-11-01'::date + 90 * i, CASE WHEN i < 9 THEN '2023-11-01'::date + 90 * (i + 3) END, 'T'
     FROM generate_series(0, 11) i`,
    `INSERT INTO "Lot" ("id", "kind", "code", "supplier", "receivedOn")
     SELECT md5('lot' || k || i)::uuid, k, upper(left(k, 1)) || '-' || i, 'S' || i % 3, '2023-10-01'::date
     FROM unnest(ARRAY['cell', 'joining', 'potting', 'board']) k, generate_series(0, 19) i`,
    `INSERT INTO "Pack" ("id", "serial", "revisionId", "builtOn", "dispatchedOn", "dispatchedToId")
     SELECT md5('pack' || i)::uuid, 'MA' || lpad(i::text, 8, '0') || 'X', md5('revision' || (i::bigint * 12 / ${packs + 1}))::uuid, built,
       CASE WHEN sent <= ${today} AND ${chance("i", 1)} > 0.04 THEN sent END,
       CASE WHEN sent <= ${today} AND ${chance("i", 1)} > 0.04 THEN md5('dealer' || (1 + floor(8 * ${chance("i", 2)})::int))::uuid END
     FROM (SELECT i, '2023-11-01'::date + (i::bigint * 1080 / ${packs})::int AS built,
       '2023-11-01'::date + (i::bigint * 1080 / ${packs})::int + 7 + floor(17 * ${chance("i", 3)})::int AS sent
       FROM generate_series(1, ${packs}) i) s`,
    `INSERT INTO "PackLot" ("packId", "lotId")
     SELECT md5('pack' || i)::uuid, md5('lot' || k || (i::bigint * 20 / ${packs + 1}))::uuid
     FROM generate_series(1, ${packs}) i, unnest(ARRAY['cell', 'joining', 'board']) k
     UNION ALL SELECT md5('pack' || i)::uuid, md5('lot' || 'cell' || (i::bigint * 20 / ${packs + 1} + 1))::uuid
     FROM generate_series(1, ${packs}) i WHERE i % 97 = 0 AND i::bigint * 20 / ${packs + 1} < 19`,
    `INSERT INTO "Sale" ("id", "packId", "dealerId", "soldOn", "zone", "buyerKind", "evidence", "underObservationFrom")
     SELECT md5('sale' || "id"::text)::uuid, "id", "dealer", "sold", 'UTC', 'consumer', 'delivery-receipt', greatest("sold", "joinedOn")
     FROM (SELECT p."id", p."dispatchedToId" AS "dealer", d."joinedOn",
         p."dispatchedOn" + 2 + ${wait('p."serial"', 4, "60")} AS "sold"
       FROM "Pack" p JOIN "Dealer" d ON d."id" = p."dispatchedToId" WHERE p."dispatchedOn" IS NOT NULL) s
     WHERE "sold" <= ${today} AND ${chance('"id"', 5)} > 0.01`,
    // A third of a percent a month, more for one revision; some told before the sale on record, some without a sale.
    `INSERT INTO "Return" ("id", "reference", "packId", "dealerId", "clientKey", "clientFingerprint", "status", "noticedOn", "toldOn",
       "lodgedAt", "concern", "symptom", "coverOutcome", "coverPolicyVersion", "dangerSigns", "conditions", "coverBecause")
     SELECT md5('return' || "id"::text)::uuid, 'R-' || substr("serial", 3, 8), "id", "dealer", md5('return' || "id"::text)::uuid, 'x',
       CASE WHEN ${chance('"id"', 9)} < 0.01 THEN 'withdrawn' WHEN "lodged" > ${today} - 25 THEN 'in-review' ELSE 'closed' END,
       "told", "told", "lodged" + time '10:00', 'It stops.', 'cuts-out', 'cannot-tell-yet', '', '{}', '{}', '{}'
     FROM (SELECT *, "told" + ${wait('"id"', 8, "6")} AS "lodged" FROM (
       SELECT p."id", p."serial", p."dispatchedToId" AS "dealer",
         coalesce(s."soldOn", p."dispatchedOn") + CASE WHEN ${chance('p."id"', 10)} < 0.004 THEN -5 ELSE ${wait('p."id"', 7, `CASE WHEN s."id" IS NULL THEN 60 WHEN r."ordinal" = 4 AND r."code" LIKE 'MB%' THEN 2500 ELSE 5600 END`)} END AS "told"
       FROM "Pack" p JOIN "Revision" r ON r."id" = p."revisionId" LEFT JOIN "Sale" s ON s."packId" = p."id"
       WHERE p."dispatchedToId" IS NOT NULL AND (s."id" IS NOT NULL OR ${chance('p."id"', 11)} < 0.1)) t) l
     WHERE "lodged" <= ${today}`,
    // A fortieth of the sold packs that never came back: told, and lapsed, or handed back undecided.
    `INSERT INTO "Return" ("id", "reference", "packId", "dealerId", "clientKey", "clientFingerprint", "status", "noticedOn", "toldOn",
       "lodgedAt", "concern", "symptom", "coverOutcome", "coverPolicyVersion", "dangerSigns", "conditions", "coverBecause")
     SELECT md5('unseen' || "id"::text)::uuid, 'R-U-' || substr("serial", 3, 8), "id", "dealerId", md5('unseen' || "id"::text)::uuid, 'x',
       (ARRAY['lapsed', 'lapsed', 'in-review', 'handed-back'])[1 + floor(4 * ${chance('"id"', 20)})::int], "told", "told",
       "told" + time '10:00', 'It stops.', 'cuts-out', 'cannot-tell-yet', '', '{}', '{}', '{}'
     FROM (SELECT p."id", p."serial", s."dealerId", s."soldOn" + 5 + ${wait('p."id"', 23, "200")} AS "told"
       FROM "Pack" p JOIN "Sale" s ON s."packId" = p."id"
       WHERE NOT EXISTS (SELECT 1 FROM "Return" t WHERE t."packId" = p."id") AND ${chance('p."id"', 24)} < 0.025) u
     WHERE "told" <= ${today}`,
    // Some of the lapsed were renewed a month later, and some have no move on record.
    `INSERT INTO "ReturnMove" ("id", "returnId", "sequence", "at", "actorUserId", "actorName", "actorRole", "from", "to", "reason", "dataVersion",
       "previousHash", "hash")
     SELECT md5('lapse' || step || "id"::text)::uuid, "id", 1 + step, "lodgedAt" + interval '1 day' * (20 + 30 * step), 'u', 'U', 'manager',
       CASE step WHEN 0 THEN 'return-approved' ELSE 'lapsed' END, CASE step WHEN 0 THEN 'lapsed' ELSE 'return-approved' END, 'By time.', 1 + step,
       repeat('0', 64), repeat('0', 64)
     FROM "Return", LATERAL (VALUES (0), (1)) v(step)
     WHERE ("status" = 'lapsed' AND step = 0 AND ${chance('"id"', 21)} < 0.8) OR ("status" = 'in-review' AND "lodgedAt"::date < ${today} - 51)`,
    `INSERT INTO "Decision" ("id", "returnId", "remedy", "confirmedFault", "confirmedFailure", "reason", "seenVersion", "decidedByUserId",
       "decidedByName", "decidedAt", "refundMinor", "refundCurrency")
     SELECT md5('decision' || "id"::text)::uuid, "id",
       CASE WHEN "luck" < 0.25 OR "luck" > 0.95 THEN 'replace' WHEN "luck" < 0.7 THEN 'repair' WHEN "luck" < 0.75 THEN 'remote-fix'
         WHEN "luck" < 0.77 THEN 'refund' WHEN "luck" < 0.79 THEN 'dispose' WHEN "luck" < 0.8 THEN 'isolate' ELSE 'return-as-is' END,
       CASE WHEN "luck" < 0.4 THEN 'weak-cell' WHEN "luck" < 0.7 THEN 'sense-wire' WHEN "luck" < 0.72 THEN 'unknown'
         WHEN "luck" < 0.8 THEN 'outside-cause' ELSE 'no-fault-found' END,
       "luck" < 0.7, 'As measured.', 1, 'u', 'U', "lodgedAt" + interval '1 day' * (2 + floor(20 * ${chance('"id"', 12)})::int),
       CASE WHEN "luck" >= 0.75 AND "luck" < 0.77 THEN 65000 END, CASE WHEN "luck" >= 0.75 AND "luck" < 0.77 THEN 'EUR' END
     FROM (SELECT "id", "lodgedAt", ${chance('"id"', 13)} AS "luck" FROM "Return" WHERE "status" = 'closed') r`,
    // A pack that was handed back may come again.
    `INSERT INTO "Return" ("id", "reference", "packId", "dealerId", "clientKey", "clientFingerprint", "status", "noticedOn", "toldOn",
       "lodgedAt", "concern", "symptom", "coverOutcome", "coverPolicyVersion", "dangerSigns", "conditions", "coverBecause")
     SELECT md5('again' || "id"::text)::uuid, "reference" || '-2', "packId", "dealerId", md5('again' || "id"::text)::uuid, 'x', 'in-review',
       "told", "told", "told" + time '12:00', 'Again.', 'cuts-out', 'cannot-tell-yet', '', '{}', '{}', '{}'
     FROM (SELECT r.*, d."decidedAt"::date + ${wait('r."id"', 14, "150")} AS "told"
       FROM "Return" r JOIN "Decision" d ON d."returnId" = r."id" WHERE d."remedy" IN ('repair', 'return-as-is')) r
     WHERE "told" <= ${today} AND ${chance('"id"', 15)} < 0.2`,
    `INSERT INTO "Decision" ("id", "returnId", "remedy", "confirmedFault", "confirmedFailure", "reason", "seenVersion", "decidedByUserId",
       "decidedByName", "decidedAt")
     SELECT md5('decision' || "id"::text)::uuid, "id", 'repair', 'weak-cell', true, 'As measured.', 1, 'u', 'U', "lodgedAt" + interval '9 days'
     FROM "Return" WHERE "reference" LIKE '%-2' AND "toldOn" < ${today} - 40`,
    // What lapsed, or was left undecided when the pack was handed back, comes again and turns out to be a failure.
    `INSERT INTO "Return" ("id", "reference", "packId", "dealerId", "clientKey", "clientFingerprint", "status", "noticedOn", "toldOn",
       "lodgedAt", "concern", "symptom", "coverOutcome", "coverPolicyVersion", "dangerSigns", "conditions", "coverBecause")
     SELECT md5('later' || "id"::text)::uuid, "reference" || '-L', "packId", "dealerId", md5('later' || "id"::text)::uuid, 'x', 'closed',
       "told", "told", "told" + time '12:00', 'Again.', 'cuts-out', 'cannot-tell-yet', '', '{}', '{}', '{}'
     FROM (SELECT *, "toldOn" + 90 AS "told" FROM "Return" WHERE "status" IN ('lapsed', 'handed-back')) r
     WHERE "told" <= ${today} - 12 AND ${chance('"id"', 22)} < 0.6`,
    `INSERT INTO "Decision" ("id", "returnId", "remedy", "confirmedFault", "confirmedFailure", "reason", "seenVersion", "decidedByUserId",
       "decidedByName", "decidedAt")
     SELECT md5('decision' || "id"::text)::uuid, "id", 'repair', 'weak-cell', true, 'As measured.', 1, 'u', 'U', "lodgedAt" + interval '9 days'
     FROM "Return" WHERE "reference" LIKE '%-L'`,
    // Some of the packs that went back were scanned on their way: out of the user's hands early, and back later than decided.
    `INSERT INTO "Track" ("id", "track", "packId", "openedByUserId", "openedByName", "state")
     SELECT md5('track' || "packId"::text)::uuid, 'custody', "packId", 'u', 'U', 'with-customer' FROM (
       SELECT DISTINCT r."packId" FROM "Return" r JOIN "Decision" d ON d."returnId" = r."id"
       WHERE d."remedy" IN ('repair', 'return-as-is') AND NOT d."confirmedFailure" AND ${chance('r."packId"', 17)} < 0.5) x`,
    `INSERT INTO "TrackMove" ("id", "trackId", "returnId", "sequence", "at", "atLocal", "actorUserId", "actorName", "actorRole", "from", "to",
       "reason", "dataVersion", "form", "previousHash", "hash")
     SELECT md5('move' || step || "returnId"::text)::uuid, "trackId", "returnId", 2 * "n" + step, "at" + time '09:00', '', 'u', 'U', 'technician',
       CASE step WHEN 0 THEN 'with-customer' ELSE 'with-dealer' END, CASE step WHEN 0 THEN 'with-dealer' ELSE CASE WHEN "lost" THEN 'missing' ELSE 'with-customer' END END,
       'Scanned.', 2 * "n" + step, 'track-history-1', repeat('0', 64), repeat('0', 64)
     FROM (SELECT k."id" AS "trackId", r."id" AS "returnId", r."toldOn" AS "out", d."decidedAt"::date + 4 AS "back", ${chance('r."id"', 18)} < 0.1 AS "lost",
         row_number() OVER (PARTITION BY r."packId" ORDER BY r."toldOn", r."reference") AS "n"
       FROM "Track" k JOIN "Return" r ON r."packId" = k."packId" JOIN "Decision" d ON d."returnId" = r."id") s,
       LATERAL (VALUES (0, "out"), (1, "back")) v(step, "at")
     -- A twelfth of them has been decided and stands in the workshop still.
     WHERE step = 0 OR "lost" OR ${chance('"returnId"', 19)} > 0.08`,
    `INSERT INTO "Replacement" ("id", "oldPackId", "newPackId", "deliveredOn")
     SELECT md5('replacement' || o."packId"::text)::uuid, o."packId", n."id", o."on"
     FROM (SELECT r."packId", d."decidedAt"::date + 7 AS "on", row_number() OVER (ORDER BY r."reference") AS "n"
       FROM "Decision" d JOIN "Return" r ON r."id" = d."returnId"
       WHERE d."remedy" IN ('replace', 'remote-fix') AND d."decidedAt"::date + 7 <= ${today}) o
     JOIN (SELECT p."id", row_number() OVER (ORDER BY p."serial" DESC) AS "n" FROM "Pack" p
       WHERE p."dispatchedOn" IS NULL) n ON n."n" = o."n"`,
    // A replacement can fail too.
    `INSERT INTO "Return" ("id", "reference", "packId", "dealerId", "clientKey", "clientFingerprint", "status", "noticedOn", "toldOn",
       "lodgedAt", "concern", "symptom", "coverOutcome", "coverPolicyVersion", "dangerSigns", "conditions", "coverBecause")
     SELECT md5('third' || "newPackId"::text)::uuid, 'R-N-' || "n", "newPackId", md5('dealer1')::uuid, md5('third' || "newPackId"::text)::uuid,
       'x', 'in-review', "told", "told", "told" + time '12:00', 'Again.', 'cuts-out', 'cannot-tell-yet', '', '{}', '{}', '{}'
     FROM (SELECT *, "deliveredOn" + ${wait('"newPackId"', 16, "700")} AS "told", row_number() OVER (ORDER BY "newPackId") AS "n"
       FROM "Replacement") x WHERE "told" <= ${today}`,
  ];
}
