/** What is wrong with a proposed plan, for the field of the form it was typed in. */
export interface ProposalProblem {
  readonly field: string;
  readonly sentence: string;
}
