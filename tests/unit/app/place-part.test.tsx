import { AppRouterContext } from "next/dist/shared/lib/app-router-context.shared-runtime";
import { renderToStaticMarkup } from "react-dom/server";
import { expect, test } from "vitest";
import { PlacePart } from "@/app/(dealer)/dealer/returns/[reference]/place-part";
import { type CustodyPlace, custodyPlaces, nextPlaces } from "@/lib/returns/custody-track";
import { actorOf } from "@/tests/unit/returns/any-actor";

const nothing = () => undefined;
/** The form asks for a router to reload with, which a page that is only written out never does. */
const noRouter = {
  bfcacheId: "none",
  back: nothing,
  forward: nothing,
  refresh: nothing,
  push: nothing,
  replace: nothing,
  prefetch: nothing,
};

function shown(place: CustodyPlace): string[] {
  const custody = { place, version: 3, ways: nextPlaces(actorOf("dealer"), place, "in-review") };
  const html = renderToStaticMarkup(
    <AppRouterContext.Provider value={noRouter}>
      <PlacePart reference="R-26-00001-X" custody={custody} action={async (before) => before} />
    </AppRouterContext.Provider>,
  );
  return [...html.matchAll(/<option value="([a-z-]+)"/g)].map(([, value]) => value ?? "");
}

// The dealer's own ways of trade.md 2.3 ("any move by scan from the holder"), but the one that a move of the return opens.
test("a dealer says by a form of the own page that the pack came back, turned up, or went to its customer", () => {
  const expected: Partial<Record<CustodyPlace, string[]>> = {
    "with-customer": ["with-dealer"],
    "with-dealer": ["with-customer"],
    "with-carrier-in": ["with-dealer"],
    "with-carrier-out": ["with-dealer"],
    missing: ["with-dealer"],
  };
  for (const place of custodyPlaces) expect(shown(place), place).toEqual(expected[place] ?? []);
});
