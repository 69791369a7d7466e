/** Something in the raw rows that may be an emergency. Sentences are built by the rule, not here. */
export interface AcuteSign {
  readonly kind:
    | "pack-collapse"
    | "group-collapse"
    | "fallen-beside-heat"
    | "silent-beside-heat"
    | "held-groups"
    | "rest-heating"
    | "self-heating"
    | "load-heating"
    | "hot"
    | "held-heat";
  /** First row of the event. */
  readonly row: number;
  readonly groups: readonly number[];
  /** Level before and after: V of the pack, V of a group against the median, or degC of a probe. */
  readonly before: number;
  readonly after: number;
  readonly overS: number;
  /** Probe name, or "" */
  readonly where: string;
  /** False where the second witness (pack voltage, neighbours, later rows) is missing. */
  readonly confirmed: boolean;
}
