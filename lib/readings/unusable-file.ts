export type UnusableReason =
  | "empty"
  | "not-text"
  | "bad-mapping"
  | "no-header"
  | "no-time-column"
  | "no-cells"
  | "header-only"
  | "no-usable-rows"
  | "several-packs"
  | "too-large";

/** A file no log can be made from, with the one sentence a person is shown. */
export interface UnusableFile {
  readonly kind: "unusable";
  readonly reason: UnusableReason;
  readonly sentence: string;
}
