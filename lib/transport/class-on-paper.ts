import { type TransportClass, transportClassLabels } from "./transport-class";

/**
 * What the paper beside a pack says of its class. Without a declaration the careful reading of what is proposed stands there,
 * and a proposal not to ship is never softened by an older class.
 */
export function classOnPaper(declared: TransportClass | null, proposed: TransportClass): string {
  if (declared === null)
    return proposed === "do-not-ship"
      ? "Do not ship: proposed, not declared yet. Isolate it."
      : "No transport class declared: treat it as damaged";
  const label = `Transport class: ${transportClassLabels[declared]}`;
  return proposed === "do-not-ship" && declared !== "do-not-ship"
    ? `${label}. What is known now says “do not ship”: ask before it is moved`
    : label;
}
