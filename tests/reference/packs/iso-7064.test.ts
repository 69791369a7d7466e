import { expect, test } from "vitest";
import { computeCheckCharacter, hasValidCheckCharacter } from "@/lib/packs/iso-7064";

// Identifiers in public use that carry a check character of ISO/IEC 7064 MOD 37,36.
const published = [
  // Global Release Identifier Standard 2.1 (IFPI), worked example A1-2425G-ABC1234002-M.
  { text: "A12425GABC1234002", check: "M", source: "GRid Standard" },
  // DDEX party identifier of a documented function, DADPIDA3897722461 gives J; 123AB gives X
  // (lobster-world.com, function "checksum ISO 7064 Mod. 37/36").
  { text: "DADPIDA3897722461", check: "J", source: "published function reference" },
  { text: "123AB", check: "X", source: "published function reference" },
  // ISO 15706 audiovisual number of the episode "Amok Time": root 0000-0000-C36D-002B-K, with version ...-0000-0000-E.
  { text: "00000000C36D002B", check: "K", source: "ISAN root" },
  { text: "00000000C36D002B00000000", check: "E", source: "ISAN with version" },
  // From memory, not looked up again: EIDR 10.5240/EA73-79D7-1B2B-B378-3A73-M, ISAN 0000-0000-3A8D-0000-Z.
  { text: "EA7379D71B2BB3783A73", check: "M", source: "EIDR, from memory" },
  { text: "000000003A8D0000", check: "Z", source: "ISAN, from memory" },
];

test.for(published)("the check character of $text is $check ($source)", ({ text, check }) => {
  expect(computeCheckCharacter(text)).toBe(check);
  expect(hasValidCheckCharacter(text + check)).toBe(true);
});
