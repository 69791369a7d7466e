export interface DatedPlan {
  /** Code of the revision, or of the model for all revisions without a plan of their own. */
  readonly scope: string;
  readonly version: number;
  /** When a second person approved it. */
  readonly settledAt: Date;
}

/**
 * The plan a pack is tested by: that of its revision, else that of its model; of these the newest approved by the
 * instant its tests began, so that a plan approved meanwhile does not change the rules under somebody's hands. A pack
 * whose tests began before its first plan has that first plan. Null where there is none at all.
 */
export function planInForce<Plan extends DatedPlan>(
  approved: readonly Plan[],
  codes: { readonly revisionCode: string; readonly modelCode: string },
  testsBeganAt: Date,
): Plan | null {
  for (const scope of [codes.revisionCode, codes.modelCode]) {
    const own = approved.filter((plan) => plan.scope === scope).sort((a, b) => a.version - b.version);
    const inTime = own.filter(({ settledAt }) => settledAt <= testsBeganAt);
    const plan = inTime.at(-1) ?? own[0];
    if (plan !== undefined) return plan;
  }
  return null;
}
