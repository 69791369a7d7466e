-- CreateTable
CREATE TABLE "HolidayCalendar" (
    "id" UUID NOT NULL,
    "version" TEXT NOT NULL,
    "country" TEXT NOT NULL,
    "validFrom" DATE NOT NULL,
    "holidays" JSONB NOT NULL,
    "why" TEXT NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'proposed',
    "proposedByUserId" TEXT,
    "proposedByName" TEXT,
    "proposedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "settledByUserId" TEXT,
    "settledByName" TEXT,
    "settledAt" TIMESTAMPTZ(3),

    CONSTRAINT "HolidayCalendar_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "HolidayCalendar_version_key" ON "HolidayCalendar"("version");

-- CreateIndex
CREATE INDEX "HolidayCalendar_country_validFrom_idx" ON "HolidayCalendar"("country", "validFrom");

ALTER TABLE "HolidayCalendar"
  ADD CONSTRAINT "HolidayCalendar_country" CHECK ("country" ~ '^[A-Z]{2}$'),
  ADD CONSTRAINT "HolidayCalendar_state" CHECK ("state" IN ('proposed', 'approved', 'dropped')),
  ADD CONSTRAINT "HolidayCalendar_two_people" CHECK (
    "state" = 'proposed' OR "proposedByUserId" IS NULL OR ("settledByUserId" IS NOT NULL AND "settledAt" IS NOT NULL
      AND ("state" = 'dropped' OR "settledByUserId" <> "proposedByUserId")));
CREATE UNIQUE INDEX "HolidayCalendar_one_approved_a_day" ON "HolidayCalendar" ("country", "validFrom") WHERE "state" = 'approved';

-- What the program comes with, all from memory: somebody compares it, or replaces it by a version of the house.
INSERT INTO "HolidayCalendar" ("id", "version", "country", "validFrom", "state", "why", "holidays") VALUES
  (gen_random_uuid(), 'DE-1', 'DE', '2000-01-01', 'approved', 'Written at set-up.', $list$[
  {"rule": "01-01", "name": {"text": "New Year's Day", "mark": {"kind": "from-memory", "compareWith": "the laws of the federal states on Sundays and holidays; those of single states are missing"}}},
  {"rule": "easter-2", "name": {"text": "Good Friday", "mark": {"kind": "from-memory", "compareWith": "the laws of the federal states on Sundays and holidays; those of single states are missing"}}},
  {"rule": "easter+1", "name": {"text": "Easter Monday", "mark": {"kind": "from-memory", "compareWith": "the laws of the federal states on Sundays and holidays; those of single states are missing"}}},
  {"rule": "05-01", "name": {"text": "Labour Day", "mark": {"kind": "from-memory", "compareWith": "the laws of the federal states on Sundays and holidays; those of single states are missing"}}},
  {"rule": "easter+39", "name": {"text": "Ascension Day", "mark": {"kind": "from-memory", "compareWith": "the laws of the federal states on Sundays and holidays; those of single states are missing"}}},
  {"rule": "easter+50", "name": {"text": "Whit Monday", "mark": {"kind": "from-memory", "compareWith": "the laws of the federal states on Sundays and holidays; those of single states are missing"}}},
  {"rule": "10-03", "name": {"text": "Day of German Unity", "mark": {"kind": "from-memory", "compareWith": "the laws of the federal states on Sundays and holidays; those of single states are missing"}}},
  {"rule": "12-25", "name": {"text": "Christmas Day", "mark": {"kind": "from-memory", "compareWith": "the laws of the federal states on Sundays and holidays; those of single states are missing"}}},
  {"rule": "12-26", "name": {"text": "Second Day of Christmas", "mark": {"kind": "from-memory", "compareWith": "the laws of the federal states on Sundays and holidays; those of single states are missing"}}}
]$list$),
  (gen_random_uuid(), 'PT-1', 'PT', '2000-01-01', 'approved', 'Written at set-up.', $list$[
  {"rule": "01-01", "name": {"text": "New Year's Day", "mark": {"kind": "from-memory", "compareWith": "Código do Trabalho, Art. 234; municipal holidays are missing"}}},
  {"rule": "easter-2", "name": {"text": "Good Friday", "mark": {"kind": "from-memory", "compareWith": "Código do Trabalho, Art. 234; municipal holidays are missing"}}},
  {"rule": "easter", "name": {"text": "Easter Sunday", "mark": {"kind": "from-memory", "compareWith": "Código do Trabalho, Art. 234; municipal holidays are missing"}}},
  {"rule": "04-25", "name": {"text": "Freedom Day", "mark": {"kind": "from-memory", "compareWith": "Código do Trabalho, Art. 234; municipal holidays are missing"}}},
  {"rule": "05-01", "name": {"text": "Labour Day", "mark": {"kind": "from-memory", "compareWith": "Código do Trabalho, Art. 234; municipal holidays are missing"}}},
  {"rule": "easter+60", "name": {"text": "Corpus Christi", "mark": {"kind": "from-memory", "compareWith": "Código do Trabalho, Art. 234; municipal holidays are missing"}}},
  {"rule": "06-10", "name": {"text": "Portugal Day", "mark": {"kind": "from-memory", "compareWith": "Código do Trabalho, Art. 234; municipal holidays are missing"}}},
  {"rule": "08-15", "name": {"text": "Assumption", "mark": {"kind": "from-memory", "compareWith": "Código do Trabalho, Art. 234; municipal holidays are missing"}}},
  {"rule": "10-05", "name": {"text": "Republic Day", "mark": {"kind": "from-memory", "compareWith": "Código do Trabalho, Art. 234; municipal holidays are missing"}}},
  {"rule": "11-01", "name": {"text": "All Saints", "mark": {"kind": "from-memory", "compareWith": "Código do Trabalho, Art. 234; municipal holidays are missing"}}},
  {"rule": "12-01", "name": {"text": "Restoration of Independence", "mark": {"kind": "from-memory", "compareWith": "Código do Trabalho, Art. 234; municipal holidays are missing"}}},
  {"rule": "12-08", "name": {"text": "Immaculate Conception", "mark": {"kind": "from-memory", "compareWith": "Código do Trabalho, Art. 234; municipal holidays are missing"}}},
  {"rule": "12-25", "name": {"text": "Christmas Day", "mark": {"kind": "from-memory", "compareWith": "Código do Trabalho, Art. 234; municipal holidays are missing"}}}
]$list$),
  (gen_random_uuid(), 'US-1', 'US', '2000-01-01', 'approved', 'Written at set-up.', $list$[
  {"rule": "01-01", "name": {"text": "New Year's Day", "mark": {"kind": "from-memory", "compareWith": "5 USC 6103; days moved from a weekend are missing"}}},
  {"rule": "third monday 01", "name": {"text": "Birthday of Martin Luther King, Jr.", "mark": {"kind": "from-memory", "compareWith": "5 USC 6103; days moved from a weekend are missing"}}},
  {"rule": "third monday 02", "name": {"text": "Washington's Birthday", "mark": {"kind": "from-memory", "compareWith": "5 USC 6103; days moved from a weekend are missing"}}},
  {"rule": "last monday 05", "name": {"text": "Memorial Day", "mark": {"kind": "from-memory", "compareWith": "5 USC 6103; days moved from a weekend are missing"}}},
  {"rule": "06-19", "name": {"text": "Juneteenth", "mark": {"kind": "from-memory", "compareWith": "5 USC 6103; days moved from a weekend are missing"}}},
  {"rule": "07-04", "name": {"text": "Independence Day", "mark": {"kind": "from-memory", "compareWith": "5 USC 6103; days moved from a weekend are missing"}}},
  {"rule": "first monday 09", "name": {"text": "Labor Day", "mark": {"kind": "from-memory", "compareWith": "5 USC 6103; days moved from a weekend are missing"}}},
  {"rule": "second monday 10", "name": {"text": "Columbus Day", "mark": {"kind": "from-memory", "compareWith": "5 USC 6103; days moved from a weekend are missing"}}},
  {"rule": "11-11", "name": {"text": "Veterans Day", "mark": {"kind": "from-memory", "compareWith": "5 USC 6103; days moved from a weekend are missing"}}},
  {"rule": "fourth thursday 11", "name": {"text": "Thanksgiving Day", "mark": {"kind": "from-memory", "compareWith": "5 USC 6103; days moved from a weekend are missing"}}},
  {"rule": "12-25", "name": {"text": "Christmas Day", "mark": {"kind": "from-memory", "compareWith": "5 USC 6103; days moved from a weekend are missing"}}}
]$list$),
  (gen_random_uuid(), 'AU-1', 'AU', '2000-01-01', 'approved', 'Written at set-up.', $list$[
  {"rule": "01-01", "name": {"text": "New Year's Day", "mark": {"kind": "from-memory", "compareWith": "the public holidays acts of the states; their own days and days moved from a weekend are missing"}}},
  {"rule": "01-26", "name": {"text": "Australia Day", "mark": {"kind": "from-memory", "compareWith": "the public holidays acts of the states; their own days and days moved from a weekend are missing"}}},
  {"rule": "easter-2", "name": {"text": "Good Friday", "mark": {"kind": "from-memory", "compareWith": "the public holidays acts of the states; their own days and days moved from a weekend are missing"}}},
  {"rule": "easter+1", "name": {"text": "Easter Monday", "mark": {"kind": "from-memory", "compareWith": "the public holidays acts of the states; their own days and days moved from a weekend are missing"}}},
  {"rule": "04-25", "name": {"text": "Anzac Day", "mark": {"kind": "from-memory", "compareWith": "the public holidays acts of the states; their own days and days moved from a weekend are missing"}}},
  {"rule": "12-25", "name": {"text": "Christmas Day", "mark": {"kind": "from-memory", "compareWith": "the public holidays acts of the states; their own days and days moved from a weekend are missing"}}},
  {"rule": "12-26", "name": {"text": "Boxing Day", "mark": {"kind": "from-memory", "compareWith": "the public holidays acts of the states; their own days and days moved from a weekend are missing"}}}
]$list$),
  (gen_random_uuid(), 'IN-1', 'IN', '2000-01-01', 'approved', 'Written at set-up.', $list$[
  {"rule": "01-26", "name": {"text": "Republic Day", "mark": {"kind": "from-memory", "compareWith": "the yearly lists of the Union and the states; all but the three national days are missing"}}},
  {"rule": "08-15", "name": {"text": "Independence Day", "mark": {"kind": "from-memory", "compareWith": "the yearly lists of the Union and the states; all but the three national days are missing"}}},
  {"rule": "10-02", "name": {"text": "Birthday of Mahatma Gandhi", "mark": {"kind": "from-memory", "compareWith": "the yearly lists of the Union and the states; all but the three national days are missing"}}}
]$list$);

CREATE TRIGGER "HolidayCalendar_never_edited" BEFORE UPDATE OR DELETE ON "HolidayCalendar"
  FOR EACH ROW EXECUTE FUNCTION "refuse_proposal_edit"();
ALTER TABLE "HolidayCalendar" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "HolidayCalendar" FORCE ROW LEVEL SECURITY;
CREATE POLICY "approved_for_all" ON "HolidayCalendar" FOR SELECT USING ("state" = 'approved' OR bench_sees_all());
CREATE POLICY "proposed_by_the_desk" ON "HolidayCalendar" FOR INSERT WITH CHECK (
  bench_role() = 'system' OR (bench_declares_class() AND "state" = 'proposed' AND "proposedByUserId" IS NOT NULL));
CREATE POLICY "settled_by_two" ON "HolidayCalendar" FOR UPDATE
  USING (bench_role() IN ('manager', 'safety-officer', 'system'))
  WITH CHECK (bench_role() IN ('manager', 'safety-officer', 'system'));
GRANT SELECT, INSERT ON "HolidayCalendar" TO bench_actor;
GRANT UPDATE ("state", "settledByUserId", "settledByName", "settledAt") ON "HolidayCalendar" TO bench_actor;
