-- The safety officer is told of a first early signal and could not read it: without a mail server nothing of it reached that office.
ALTER POLICY "read_by_managers" ON "SignalRound" USING (bench_role() IN ('manager', 'safety-officer', 'system'));
ALTER POLICY "read_by_managers" ON "SignalAlarm" USING (bench_role() IN ('manager', 'safety-officer', 'system'));
ALTER POLICY "read_by_managers" ON "SignalRound" RENAME TO "read_by_managers_and_safety_officer";
ALTER POLICY "read_by_managers" ON "SignalAlarm" RENAME TO "read_by_managers_and_safety_officer";
