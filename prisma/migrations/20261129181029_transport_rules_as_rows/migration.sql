-- CreateTable
CREATE TABLE "TransportRuleVersion" (
    "id" UUID NOT NULL,
    "version" TEXT NOT NULL,
    "validFrom" DATE NOT NULL,
    "content" JSONB NOT NULL,
    "why" TEXT NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'proposed',
    "proposedByUserId" TEXT,
    "proposedByName" TEXT,
    "proposedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "settledByUserId" TEXT,
    "settledByName" TEXT,
    "settledAt" TIMESTAMPTZ(3),

    CONSTRAINT "TransportRuleVersion_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "TransportRuleVersion_version_key" ON "TransportRuleVersion"("version");

ALTER TABLE "TransportRuleVersion"
  ADD CONSTRAINT "TransportRuleVersion_state" CHECK ("state" IN ('proposed', 'approved', 'dropped')),
  -- Only set-up leaves the persons out; a person's proposal is settled by somebody, and never approved by the same one.
  ADD CONSTRAINT "TransportRuleVersion_two_people" CHECK (
    "state" = 'proposed' OR "proposedByUserId" IS NULL OR ("settledByUserId" IS NOT NULL AND "settledAt" IS NOT NULL
      AND ("state" = 'dropped' OR "settledByUserId" <> "proposedByUserId")));
CREATE UNIQUE INDEX "TransportRuleVersion_one_approved_a_day" ON "TransportRuleVersion" ("validFrom") WHERE "state" = 'approved';

-- Settling is the one change there is, of this table and of others that two people change; every word stays as it was
-- proposed.
CREATE FUNCTION "refuse_proposal_edit"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'DELETE' OR OLD."state" <> 'proposed'
    OR (to_jsonb(NEW) - ARRAY['state', 'settledByUserId', 'settledByName', 'settledAt'])
      IS DISTINCT FROM (to_jsonb(OLD) - ARRAY['state', 'settledByUserId', 'settledByName', 'settledAt']) THEN
    RAISE EXCEPTION 'what was proposed is never edited: propose a new version' USING ERRCODE = 'integrity_constraint_violation';
  END IF;
  RETURN NEW;
END $$;

-- What the program comes with. No sentence of it was confirmed by an adviser; each says where it comes from.
INSERT INTO "TransportRuleVersion" ("id", "version", "validFrom", "state", "why", "content") VALUES (gen_random_uuid(), '2026-1',
  '2025-01-01', 'approved', 'Written at set-up. The adviser confirms it, or replaces it by a version of the house.', $rules$
{
 "owner": "the maker's dangerous-goods safety adviser",
 "definition": [
  {"text": "Damaged or defective is a battery that no longer conforms to the type tested under the Manual of Tests and Criteria.", "mark": {"kind": "read", "where": "ADR 2025, special provision 376 (German text)"}},
  {"text": "This covers, among others: defective for safety reasons; leaked or vented; cannot be diagnosed before carriage; sustained physical or mechanical damage.", "mark": {"kind": "read", "where": "the lithium battery transport e-book of batteriestransport.org, 2023"}},
  {"text": "The assessment rests on safety criteria of the maker of cell, battery or product, or on a technical expert who knows the safety features.", "mark": {"kind": "read", "where": "ADR 2025, special provision 376 (German text)"}}
 ],
 "tracks": [
  {
   "name": "Road and rail (ADR/RID), sea (IMDG)",
   "countries": ["AT", "BE", "CH", "CZ", "DE", "DK", "ES", "FI", "FR", "GB", "HU", "IE", "IT", "LU", "NL", "NO", "PL", "PT", "SE", "SI", "SK"],
   "damaged": {
    "instruction": "P908",
    "largeInstruction": "LP904",
    "level": {"text": "The packaging meets the tests of packing group II.", "mark": {"kind": "read", "where": "ADR 2015, packing instruction P908 (German text)"}},
    "contents": [
     {"text": "Each battery is packed singly in an inner packaging, and that in an outer packaging.", "mark": {"kind": "read", "where": "ADR 2015, packing instruction P908 (German text)"}},
     {"text": "The inner or the outer packaging is leak-proof, so that electrolyte that comes out stays in.", "mark": {"kind": "read", "where": "ADR 2015, packing instruction P908 (German text)"}},
     {"text": "Around the inner packaging lies enough thermal insulation that does not burn and does not conduct electricity.", "mark": {"kind": "read", "where": "ADR 2015, packing instruction P908 (German text)"}},
     {"text": "A sealed packaging has a venting device where that is appropriate.", "mark": {"kind": "read", "where": "ADR 2015, packing instruction P908 (German text)"}},
     {"text": "Vibration, shocks and movement within the package are limited by material that does neither burn nor conduct.", "mark": {"kind": "read", "where": "ADR 2015, packing instruction P908 (German text)"}},
     {"text": "A battery that leaks gets enough inert absorbent material to take up what comes out.", "mark": {"kind": "read", "where": "ADR 2015, packing instruction P908 (German text)"}},
     {"text": "Drums 1A2, 1B2, 1N2, 1H2, 1D, 1G; boxes 4A, 4B, 4N, 4C1, 4C2, 4D, 4F, 4G, 4H1, 4H2; jerricans 3A2, 3B2, 3H2.", "mark": {"kind": "read", "where": "ADR 2015, packing instruction P908 (German text)"}}
    ],
    "marks": [
     {"text": "DAMAGED/DEFECTIVE LITHIUM-ION BATTERIES", "mark": {"kind": "read", "where": "the lithium battery transport e-book of batteriestransport.org, 2023, p. 155"}, "letterHeightMm": null},
     {"text": "Hazard label No. 9A, a square set on its corner, at least 100 mm by 100 mm", "mark": {"kind": "read", "where": "the lithium battery transport e-book of batteriestransport.org, 2023, p. 144"}, "letterHeightMm": null},
     {"text": "{UN number}", "mark": {"kind": "from-memory", "compareWith": "ADR 5.2.1.1"}, "letterHeightMm": 12}
    ],
    "documentEntries": [
     {"text": "Transport in accordance with special provision 376", "mark": {"kind": "from-memory", "compareWith": "ADR 5.4.1 and special provision 376"}}
    ]
   },
   "notDamaged": {
    "instruction": "P903",
    "largeInstruction": "LP903",
    "level": {"text": "The packaging meets the tests of packing group II.", "mark": {"kind": "from-memory", "compareWith": "ADR packing instruction P903"}},
    "contents": [
     {"text": "The contacts are protected against short circuit, and the battery cannot move.", "mark": {"kind": "from-memory", "compareWith": "ADR packing instruction P903"}},
     {"text": "A battery above 12 kg with a strong, impact-resistant case may go in a strong outer packaging or a protective enclosure.", "mark": {"kind": "read", "where": "PHMSA interpretation 08-0161 on packing instruction 903"}},
     {"text": "A battery above 100 Wh has no relief under special provision 188: it travels as fully regulated goods of class 9.", "mark": {"kind": "read", "where": "ADR special provision 188"}}
    ],
    "marks": [
     {"text": "Hazard label No. 9A, a square set on its corner, at least 100 mm by 100 mm", "mark": {"kind": "read", "where": "the lithium battery transport e-book of batteriestransport.org, 2023, p. 144"}, "letterHeightMm": null},
     {"text": "{UN number}", "mark": {"kind": "from-memory", "compareWith": "ADR 5.2.1.1"}, "letterHeightMm": 12}
    ],
    "documentEntries": [
     {"text": "UN number, LITHIUM ION BATTERIES, 9, tunnel restriction code, number and kind of packages, mass", "mark": {"kind": "from-memory", "compareWith": "ADR 5.4.1.1.1"}}
    ]
   },
   "critical": [
    {"text": "A battery liable to rapidly disassemble, react dangerously, produce flame, dangerous heat or dangerous gases is packed by P911, one large battery by LP906, or as the competent authority approves.", "mark": {"kind": "read", "where": "ADR 2025, special provision 376 (German text)"}},
    {"text": "By test: outside of the package not above 100 °C (200 °C for a moment), no flame outside, no projectiles, the package stays whole, gases are managed.", "mark": {"kind": "read", "where": "ADR 2025, packing instruction P911 (German text)"}},
    {"text": "The packaging meets the tests of packing group I.", "mark": {"kind": "read", "where": "the lithium battery transport e-book of batteriestransport.org, 2023"}},
    {"text": "Transport category 0: there is no relief for small loads.", "mark": {"kind": "from-memory", "compareWith": "ADR 1.1.3.6"}},
    {"text": "This house sends no such pack itself: a specialist collects it, and the adviser names the packing.", "mark": {"kind": "house"}}
   ],
   "remarks": [
    {"text": "The relief for disposal or recycling (special provision 377, P909) is not for damaged or defective batteries.", "mark": {"kind": "read", "where": "PHMSA interpretation 24-0050 and the text of special provision 377"}},
    {"text": "Special provision 230 does not apply to damaged or defective batteries.", "mark": {"kind": "read", "where": "the lithium battery transport e-book of batteriestransport.org, 2023 and ADR 2025, special provision 376 (German text)"}},
    {"text": "At sea: stowage category C unless the voyage is a short international one.", "mark": {"kind": "from-memory", "compareWith": "IMDG Code 7.1.5, SW19"}}
   ]
  },
  {
   "name": "United States (49 CFR 173.185)",
   "countries": ["US"],
   "damaged": {
    "instruction": "49 CFR 173.185(f)",
    "largeInstruction": null,
    "level": {"text": "The outer packaging meets the tests of packing group I.", "mark": {"kind": "read", "where": "lion.com (2019), quoting PHMSA's advisory of 2016"}},
    "contents": [
     {"text": "Each battery lies in its own non-metallic inner packaging that encloses it completely.", "mark": {"kind": "read", "where": "lion.com (2019), quoting PHMSA's advisory of 2016"}},
     {"text": "The inner packaging is surrounded by cushioning that does not burn, does not conduct electricity, and absorbs.", "mark": {"kind": "read", "where": "lion.com (2019), quoting PHMSA's advisory of 2016"}},
     {"text": "One inner packaging in one outer packaging.", "mark": {"kind": "read", "where": "lion.com (2019), quoting PHMSA's advisory of 2016"}},
     {"text": "All damaged or defective lithium batteries that may give off dangerous heat, burn or short-circuit go under paragraph (f), also on the way to disposal or recycling.", "mark": {"kind": "read", "where": "PHMSA interpretation 24-0050 (2 July 2024)"}},
     {"text": "Whoever packs and ships is trained for hazardous materials.", "mark": {"kind": "read", "where": "PHMSA guidance as reported by lion.com (2023)"}}
    ],
    "marks": [
     {"text": "Damaged/defective lithium ion battery", "mark": {"kind": "read", "where": "lion.com (2019), quoting PHMSA's advisory of 2016"}, "letterHeightMm": 12},
     {"text": "Lithium battery class 9 label", "mark": {"kind": "from-memory", "compareWith": "49 CFR 172.407 and 172.447"}, "letterHeightMm": null},
     {"text": "Lithium ion batteries, {UN number}", "mark": {"kind": "from-memory", "compareWith": "49 CFR 172.301"}, "letterHeightMm": null}
    ],
    "documentEntries": [
     {"text": "UN3480, Lithium ion batteries, 9, with quantity and an emergency telephone number", "mark": {"kind": "from-memory", "compareWith": "49 CFR 172.202"}}
    ]
   },
   "notDamaged": {
    "instruction": "49 CFR 173.185(b)",
    "largeInstruction": null,
    "level": {"text": "The packaging meets the tests of packing group II.", "mark": {"kind": "from-memory", "compareWith": "49 CFR 173.185(b)"}},
    "contents": [
     {"text": "Short circuits, damage and movement are prevented; the battery lies in an inner packaging.", "mark": {"kind": "from-memory", "compareWith": "49 CFR 173.185(b)"}},
     {"text": "A battery above 12 kg with a strong, impact-resistant case may go in a strong outer packaging or a protective enclosure.", "mark": {"kind": "read", "where": "PHMSA interpretation 08-0161"}}
    ],
    "marks": [
     {"text": "Lithium battery class 9 label", "mark": {"kind": "from-memory", "compareWith": "49 CFR 172.407 and 172.447"}, "letterHeightMm": null},
     {"text": "Lithium ion batteries, {UN number}", "mark": {"kind": "from-memory", "compareWith": "49 CFR 172.301"}, "letterHeightMm": null}
    ],
    "documentEntries": [
     {"text": "UN3480, Lithium ion batteries, 9, with quantity and an emergency telephone number", "mark": {"kind": "from-memory", "compareWith": "49 CFR 172.202"}}
    ]
   },
   "critical": [
    {"text": "A battery that shows acute signs moves only as the authority (PHMSA) approves.", "mark": {"kind": "from-memory", "compareWith": "49 CFR 173.185(f)"}},
    {"text": "This house sends no such pack itself: a specialist collects it, and the adviser names the packing.", "mark": {"kind": "house"}}
   ],
   "remarks": [
    {"text": "Letters of the mark are at least 12 mm high.", "mark": {"kind": "from-memory", "compareWith": "49 CFR 173.185(f)"}},
    {"text": "Carriage of damaged, defective or recalled lithium batteries by air is forbidden.", "mark": {"kind": "read", "where": "lion.com (2023)"}},
    {"text": "Highway, rail and vessel only. The numbers of the sub-paragraphs were not compared.", "mark": {"kind": "from-memory", "compareWith": "49 CFR 173.185(f)"}}
   ]
  },
  {
   "name": "Sea (IMDG), with the road code of the country for the way to the port",
   "countries": ["AU", "IN", "NZ"],
   "damaged": {
    "instruction": "P908",
    "largeInstruction": "LP904",
    "level": {"text": "The packaging meets the tests of packing group II.", "mark": {"kind": "read", "where": "ADR 2015, packing instruction P908 (German text)"}},
    "contents": [
     {"text": "Each battery is packed singly in an inner packaging, and that in an outer packaging.", "mark": {"kind": "read", "where": "ADR 2015, packing instruction P908 (German text)"}},
     {"text": "The inner or the outer packaging is leak-proof, so that electrolyte that comes out stays in.", "mark": {"kind": "read", "where": "ADR 2015, packing instruction P908 (German text)"}},
     {"text": "Around the inner packaging lies enough thermal insulation that does not burn and does not conduct electricity.", "mark": {"kind": "read", "where": "ADR 2015, packing instruction P908 (German text)"}},
     {"text": "A sealed packaging has a venting device where that is appropriate.", "mark": {"kind": "read", "where": "ADR 2015, packing instruction P908 (German text)"}},
     {"text": "Vibration, shocks and movement within the package are limited by material that does neither burn nor conduct.", "mark": {"kind": "read", "where": "ADR 2015, packing instruction P908 (German text)"}},
     {"text": "A battery that leaks gets enough inert absorbent material to take up what comes out.", "mark": {"kind": "read", "where": "ADR 2015, packing instruction P908 (German text)"}},
     {"text": "Drums 1A2, 1B2, 1N2, 1H2, 1D, 1G; boxes 4A, 4B, 4N, 4C1, 4C2, 4D, 4F, 4G, 4H1, 4H2; jerricans 3A2, 3B2, 3H2.", "mark": {"kind": "read", "where": "ADR 2015, packing instruction P908 (German text)"}}
    ],
    "marks": [
     {"text": "DAMAGED/DEFECTIVE LITHIUM-ION BATTERIES", "mark": {"kind": "read", "where": "the lithium battery transport e-book of batteriestransport.org, 2023, p. 155"}, "letterHeightMm": null},
     {"text": "Hazard label No. 9A, a square set on its corner, at least 100 mm by 100 mm", "mark": {"kind": "read", "where": "the lithium battery transport e-book of batteriestransport.org, 2023, p. 144"}, "letterHeightMm": null},
     {"text": "{UN number}", "mark": {"kind": "from-memory", "compareWith": "ADR 5.2.1.1"}, "letterHeightMm": 12}
    ],
    "documentEntries": [
     {"text": "Transport in accordance with special provision 376", "mark": {"kind": "from-memory", "compareWith": "ADR 5.4.1 and special provision 376"}}
    ]
   },
   "notDamaged": {
    "instruction": "P903",
    "largeInstruction": "LP903",
    "level": {"text": "The packaging meets the tests of packing group II.", "mark": {"kind": "from-memory", "compareWith": "ADR packing instruction P903"}},
    "contents": [
     {"text": "The contacts are protected against short circuit, and the battery cannot move.", "mark": {"kind": "from-memory", "compareWith": "ADR packing instruction P903"}},
     {"text": "A battery above 12 kg with a strong, impact-resistant case may go in a strong outer packaging or a protective enclosure.", "mark": {"kind": "read", "where": "PHMSA interpretation 08-0161 on packing instruction 903"}},
     {"text": "A battery above 100 Wh has no relief under special provision 188: it travels as fully regulated goods of class 9.", "mark": {"kind": "read", "where": "ADR special provision 188"}}
    ],
    "marks": [
     {"text": "Hazard label No. 9A, a square set on its corner, at least 100 mm by 100 mm", "mark": {"kind": "read", "where": "the lithium battery transport e-book of batteriestransport.org, 2023, p. 144"}, "letterHeightMm": null},
     {"text": "{UN number}", "mark": {"kind": "from-memory", "compareWith": "ADR 5.2.1.1"}, "letterHeightMm": 12}
    ],
    "documentEntries": [
     {"text": "UN number, LITHIUM ION BATTERIES, 9, tunnel restriction code, number and kind of packages, mass", "mark": {"kind": "from-memory", "compareWith": "ADR 5.4.1.1.1"}}
    ]
   },
   "critical": [
    {"text": "A battery liable to rapidly disassemble, react dangerously, produce flame, dangerous heat or dangerous gases is packed by P911, one large battery by LP906, or as the competent authority approves.", "mark": {"kind": "read", "where": "ADR 2025, special provision 376 (German text)"}},
    {"text": "By test: outside of the package not above 100 °C (200 °C for a moment), no flame outside, no projectiles, the package stays whole, gases are managed.", "mark": {"kind": "read", "where": "ADR 2025, packing instruction P911 (German text)"}},
    {"text": "The packaging meets the tests of packing group I.", "mark": {"kind": "read", "where": "the lithium battery transport e-book of batteriestransport.org, 2023"}},
    {"text": "Transport category 0: there is no relief for small loads.", "mark": {"kind": "from-memory", "compareWith": "ADR 1.1.3.6"}},
    {"text": "This house sends no such pack itself: a specialist collects it, and the adviser names the packing.", "mark": {"kind": "house"}}
   ],
   "remarks": [
    {"text": "The relief for disposal or recycling (special provision 377, P909) is not for damaged or defective batteries.", "mark": {"kind": "read", "where": "PHMSA interpretation 24-0050 and the text of special provision 377"}},
    {"text": "Special provision 230 does not apply to damaged or defective batteries.", "mark": {"kind": "read", "where": "the lithium battery transport e-book of batteriestransport.org, 2023 and ADR 2025, special provision 376 (German text)"}},
    {"text": "The way to the port falls under the country's own road code, which this rule set does not hold: ask the adviser before anything moves.", "mark": {"kind": "from-memory", "compareWith": "the road code of the country (Australia: ADG Code; India: Central Motor Vehicles Rules)"}},
    {"text": "At sea: stowage category C unless the voyage is a short international one.", "mark": {"kind": "from-memory", "compareWith": "IMDG Code 7.1.5, SW19"}}
   ]
  }
 ],
 "air": [
  {"text": "No returned pack goes by air, whatever its class.", "mark": {"kind": "house"}},
  {"text": "By air are forbidden: batteries damaged or defective for safety reasons that may give off dangerous heat, burn or short-circuit, such as those returned to the maker for safety reasons or those that cannot be diagnosed.", "mark": {"kind": "read", "where": "the lithium battery transport e-book of batteriestransport.org, 2023, p. 40 and 144"}},
  {"text": "The same stands in the rules of the airlines.", "mark": {"kind": "from-memory", "compareWith": "IATA Dangerous Goods Regulations, special provision A154"}}
 ],
 "aloneAboveKg": {"kg": 30, "rule": {"text": "A battery of more than 30 kg net goes alone into its outer packaging.", "mark": {"kind": "read", "where": "ADR 2015, packing instruction P908 (German text)"}}},
 "authorisationDays": 14,
 "checklist": [
  {"text": "The serial on the pack is the serial on this sheet.", "mark": {"kind": "practice"}},
  {"text": "One pack, one package, one label: packs of several returns never share a box.", "mark": {"kind": "practice"}},
  {"text": "The pack is cool to the hand, does not smell, hiss or swell. If it changes: step back, call the emergency number.", "mark": {"kind": "practice"}},
  {"text": "The contacts are covered so that nothing can touch them.", "mark": {"kind": "practice"}},
  {"text": "The charge of the pack was left as it is, unless the service desk asked otherwise in writing.", "mark": {"kind": "practice"}},
  {"text": "The packaging is the one named on this sheet, undamaged, closed as its maker says.", "mark": {"kind": "practice"}},
  {"text": "The marks named on this sheet stand on the package and can be read; old marks are covered.", "mark": {"kind": "practice"}},
  {"text": "The packed box was photographed, open and closed.", "mark": {"kind": "practice"}},
  {"text": "The person who packs and hands over is trained for dangerous goods, and signs here.", "mark": {"kind": "house"}},
  {"text": "The carrier takes dangerous goods of class 9 by road, and was told what this is. No post, no parcel counter, no air.", "mark": {"kind": "house"}}
 ],
 "meanings": {
  "do-not-ship": {"text": "It may react dangerously on the way. Nothing is printed for it here: it stays isolated until a specialist collects it.", "mark": {"kind": "house"}},
  "damaged": {"text": "It travels only as a damaged or defective battery, in the packing and with the marks named below.", "mark": {"kind": "house"}},
  "not-damaged": {"text": "It was diagnosed and met no criterion of damage, so the ordinary rules for lithium-ion batteries hold.", "mark": {"kind": "house"}}
 },
 "dealerScripts": {
  "keep-away": {
   "headline": "Keep away and call for help",
   "does": [
    {"text": "Get everyone away and out of the smoke; its vapour is poisonous and can burn.", "mark": {"kind": "practice"}},
    {"text": "Call the emergency number and say it is a large lithium battery.", "mark": {"kind": "practice"}},
    {"text": "Keep a way out free and warn your neighbours in the building.", "mark": {"kind": "practice"}},
    {"text": "Only when it is safe: come back to this form; what you have entered is kept.", "mark": {"kind": "practice"}},
    {"text": "Follow your local emergency services and rules; they come before anything said here.", "mark": {"kind": "house"}}
   ],
   "donts": [
    {"text": "Do not carry or touch it while it is hot, smoking or hissing.", "mark": {"kind": "practice"}},
    {"text": "Do not shut it into a closed room.", "mark": {"kind": "practice"}},
    {"text": "Do not charge, ride, discharge or try to wake it up, not even to test it.", "mark": {"kind": "practice"}},
    {"text": "Do not open, pierce or press it.", "mark": {"kind": "practice"}},
    {"text": "Do not change its software before the readings are saved.", "mark": {"kind": "practice"}},
    {"text": "Do not send it by post, parcel or air, and do not pack it, until you are told how.", "mark": {"kind": "house"}}
   ]
  },
  "set-apart": {
   "headline": "Set the pack apart now",
   "does": [
    {"text": "Unplug it only if you can do so without touching anything wet, hot or damaged.", "mark": {"kind": "practice"}},
    {"text": "Bring it outside, or have it brought: away from buildings, ways out and anything that burns, sheltered from sun and rain.", "mark": {"kind": "practice"}},
    {"text": "Keep people away and look at it again and again, for a day at least.", "mark": {"kind": "practice"}},
    {"text": "If it gets warm, swells, smells or hisses: step back and call the emergency number.", "mark": {"kind": "practice"}},
    {"text": "See a doctor after a shock, after breathing vapour, or after touching what leaked; rinse with much water first.", "mark": {"kind": "practice"}},
    {"text": "Follow your local emergency services and rules; they come before anything said here.", "mark": {"kind": "house"}}
   ],
   "donts": [
    {"text": "Do not touch what leaks.", "mark": {"kind": "practice"}},
    {"text": "Do not leave it indoors overnight.", "mark": {"kind": "practice"}},
    {"text": "Do not charge, ride, discharge or try to wake it up, not even to test it.", "mark": {"kind": "practice"}},
    {"text": "Do not open, pierce or press it.", "mark": {"kind": "practice"}},
    {"text": "Do not change its software before the readings are saved.", "mark": {"kind": "practice"}},
    {"text": "Do not send it by post, parcel or air, and do not pack it, until you are told how.", "mark": {"kind": "house"}}
   ]
  },
  "none": {
   "headline": "Leave the pack as it is",
   "does": [
    {"text": "Cover the contacts so that nothing can touch them.", "mark": {"kind": "practice"}},
    {"text": "Photograph the label, the display, the case and the connector.", "mark": {"kind": "practice"}},
    {"text": "Keep it at the charge it has, dry, away from heat, where you would notice a change.", "mark": {"kind": "practice"}},
    {"text": "If it gets warm, swells, smells or hisses: step back, and call the emergency number.", "mark": {"kind": "practice"}},
    {"text": "Follow your local emergency services and rules; they come before anything said here.", "mark": {"kind": "house"}}
   ],
   "donts": [
    {"text": "Do not charge, ride, discharge or try to wake it up, not even to test it.", "mark": {"kind": "practice"}},
    {"text": "Do not open, pierce or press it.", "mark": {"kind": "practice"}},
    {"text": "Do not change its software before the readings are saved.", "mark": {"kind": "practice"}},
    {"text": "Do not send it by post, parcel or air, and do not pack it, until you are told how.", "mark": {"kind": "house"}}
   ]
  }
 }
}
$rules$);

CREATE TRIGGER "TransportRuleVersion_never_edited" BEFORE UPDATE OR DELETE ON "TransportRuleVersion"
  FOR EACH ROW EXECUTE FUNCTION "refuse_proposal_edit"();

ALTER TABLE "TransportRuleVersion" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "TransportRuleVersion" FORCE ROW LEVEL SECURITY;
CREATE POLICY "approved_for_all" ON "TransportRuleVersion" FOR SELECT USING ("state" = 'approved' OR bench_sees_all());
CREATE POLICY "proposed_by_the_desk" ON "TransportRuleVersion" FOR INSERT WITH CHECK (
  bench_role() = 'system' OR (bench_declares_class() AND "state" = 'proposed' AND "proposedByUserId" IS NOT NULL));
CREATE POLICY "settled_by_two" ON "TransportRuleVersion" FOR UPDATE
  USING (bench_role() IN ('manager', 'safety-officer', 'system'))
  WITH CHECK (bench_role() IN ('manager', 'safety-officer', 'system'));
GRANT SELECT, INSERT ON "TransportRuleVersion" TO bench_actor;
GRANT UPDATE ("state", "settledByUserId", "settledByName", "settledAt") ON "TransportRuleVersion" TO bench_actor;
