-- A dangerous pack that nobody ships is collected by a specialist, its flag unchanged.
ALTER TABLE "Track" DROP CONSTRAINT "Track_state";
ALTER TABLE "Track" ADD CONSTRAINT "Track_state" CHECK (CASE "track"
    WHEN 'custody' THEN "state" IN ('with-customer', 'with-dealer', 'with-carrier-in', 'quarantine', 'bench', 'store',
      'workshop', 'with-carrier-out', 'supplier', 'recycler', 'specialist', 'missing')
    WHEN 'safety' THEN "state" IN ('normal', 'caution', 'isolate', 'do-not-move', 'incident-open', 'incident-closed')
    WHEN 'hold' THEN "state" IN ('none', 'held')
    WHEN 'remedy' THEN "state" IN ('none-yet', 'offered', 'chosen', 'reserved', 'sent', 'received', 'refund-agreed',
      'refund-paid', 'refused', 'objected')
    ELSE false END);
