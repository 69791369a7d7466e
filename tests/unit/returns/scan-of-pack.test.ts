import { expect, test } from "vitest";
import { makeSerial } from "@/lib/packs/serial";
import { makeReturnReference } from "@/lib/returns/return-reference";
import { whyNotThisPack } from "@/lib/returns/scan-of-pack";

const serial = makeSerial({ model: "QP", buildYear: 2024, buildWeek: 2, sequence: 1 });
const another = makeSerial({ model: "QP", buildYear: 2024, buildWeek: 2, sequence: 2 });
const reference = makeReturnReference(2026, 417);
const otherReference = makeReturnReference(2026, 418);
const scan = (scanned: string, cannotBeRead = false) =>
  whyNotThisPack({ scanned, cannotBeRead }, { serial, reference });

test("serial, reference, or the address in the traveller's code tell the pack", () => {
  for (const read of [serial, ` ${serial.toLowerCase()}\n`, reference, `https://bench.example/bench/${reference}`])
    expect(scan(read), read).toBeNull();
});

test("another pack, another return or a text that is neither moves nothing, also where the code is said to be unreadable", () => {
  for (const read of [another, otherReference, `https://bench.example/bench/${otherReference}`, "rubbish"]) {
    expect(scan(read), read).toBe("scan-other-pack");
    expect(scan(read, true), read).toBe("scan-other-pack");
  }
});

test("without a scan somebody has to say that the code cannot be read", () => {
  expect(scan("")).toBe("scan-missing");
  expect(scan(" ", true)).toBeNull();
});
