/** So many packs that go from one age to another. */
export interface Span {
  readonly from: number;
  readonly to: number;
  readonly units: number;
}
