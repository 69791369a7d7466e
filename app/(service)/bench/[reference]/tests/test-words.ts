import type { StatusTone } from "@/app/_components/status-line";
import type { TestState } from "@/lib/bench-tests/test-standing";
import { type Verdict, verdictWords } from "@/lib/bench-tests/verdict";

const verdictTones: Readonly<Record<Verdict, StatusTone>> = {
  inside: "good",
  outside: "danger",
  "cannot-tell": "warn",
};

/** How a test stands, as a stamp. */
export function stampOf(state: TestState): { readonly word: string; readonly tone: StatusTone } {
  switch (state.kind) {
    case "open":
      return { word: "Open", tone: "plain" };
    case "waived":
      return { word: "Left out", tone: "warn" };
    case "in-doubt":
      return { word: "In doubt: measure again", tone: "warn" };
    case "done":
      return { word: verdictWords[state.verdict], tone: verdictTones[state.verdict] };
    default: {
      const never: never = state;
      return never;
    }
  }
}
