/** What an open incident forbids for its pack, as facts the case and custody tables can ask. */
export interface FreezeFacts {
  readonly noShip: boolean;
  readonly noDestructiveTest: boolean;
  readonly noHandBack: boolean;
  readonly noErase: boolean;
  /** One sentence for each incident that holds the pack. */
  readonly because: readonly string[];
}

export interface IncidentStanding {
  readonly reference: string;
  /** An incident holds its pack until the safety officer closes it, whatever was decided about reporting. */
  readonly isOpen: boolean;
}

/**
 * What the incidents of a pack forbid. Evidence is never erased while a record of an incident exists, open or closed:
 * retention is a legal question, not one of this table.
 */
export function freezeFacts(incidents: readonly IncidentStanding[]): FreezeFacts {
  const open = incidents.filter(({ isOpen }) => isOpen);
  const held = open.length > 0;
  return {
    noShip: held,
    noDestructiveTest: held,
    noHandBack: held,
    noErase: incidents.length > 0,
    because: open.map(({ reference }) => `The safety incident ${reference} is open and holds this pack as evidence.`),
  };
}
