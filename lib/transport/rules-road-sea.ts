import { fromMemory, houseRule, readIn } from "./sourced-text";

// The transport rules of this house, first version: road, rail and sea after the UN Model Regulations. Each sentence says
// where it was read. Nobody confirmed it yet: that is the dangerous-goods safety adviser's dated act.

const EBOOK = "the lithium battery transport e-book of batteriestransport.org, 2023";
const SP376 = "ADR 2025, special provision 376 (German text)";
const P908 = "ADR 2015, packing instruction P908 (German text)";
const P911 = "ADR 2025, packing instruction P911 (German text)";

export const definition = [
  readIn(
    SP376,
    "Damaged or defective is a battery that no longer conforms to the type tested under the Manual of Tests and Criteria.",
  ),
  readIn(
    EBOOK,
    "This covers, among others: defective for safety reasons; leaked or vented; cannot be diagnosed before carriage; sustained physical or mechanical damage.",
  ),
  readIn(
    SP376,
    "The assessment rests on safety criteria of the maker of cell, battery or product, or on a technical expert who knows the safety features.",
  ),
];

const damagedMark = {
  ...readIn(`${EBOOK}, p. 155`, "DAMAGED/DEFECTIVE LITHIUM-ION BATTERIES"),
  letterHeightMm: null,
};

const hazardLabel = {
  ...readIn(`${EBOOK}, p. 144`, "Hazard label No. 9A, a square set on its corner, at least 100 mm by 100 mm"),
  letterHeightMm: null,
};

export const unNumberMark = {
  ...fromMemory("ADR 5.2.1.1", "{UN number}"),
  letterHeightMm: 12,
};

const damaged = {
  instruction: "P908",
  largeInstruction: "LP904",
  level: readIn(P908, "The packaging meets the tests of packing group II."),
  contents: [
    readIn(P908, "Each battery is packed singly in an inner packaging, and that in an outer packaging."),
    readIn(P908, "The inner or the outer packaging is leak-proof, so that electrolyte that comes out stays in."),
    readIn(
      P908,
      "Around the inner packaging lies enough thermal insulation that does not burn and does not conduct electricity.",
    ),
    readIn(P908, "A sealed packaging has a venting device where that is appropriate."),
    readIn(
      P908,
      "Vibration, shocks and movement within the package are limited by material that does neither burn nor conduct.",
    ),
    readIn(P908, "A battery that leaks gets enough inert absorbent material to take up what comes out."),
    readIn(
      P908,
      "Drums 1A2, 1B2, 1N2, 1H2, 1D, 1G; boxes 4A, 4B, 4N, 4C1, 4C2, 4D, 4F, 4G, 4H1, 4H2; jerricans 3A2, 3B2, 3H2.",
    ),
  ],
  marks: [damagedMark, hazardLabel, unNumberMark],
  documentEntries: [
    fromMemory("ADR 5.4.1 and special provision 376", "Transport in accordance with special provision 376"),
  ],
};

const notDamaged = {
  instruction: "P903",
  largeInstruction: "LP903",
  level: fromMemory("ADR packing instruction P903", "The packaging meets the tests of packing group II."),
  contents: [
    fromMemory(
      "ADR packing instruction P903",
      "The contacts are protected against short circuit, and the battery cannot move.",
    ),
    readIn(
      "PHMSA interpretation 08-0161 on packing instruction 903",
      "A battery above 12 kg with a strong, impact-resistant case may go in a strong outer packaging or a protective enclosure.",
    ),
    readIn(
      "ADR special provision 188",
      "A battery above 100 Wh has no relief under special provision 188: it travels as fully regulated goods of class 9.",
    ),
  ],
  marks: [hazardLabel, unNumberMark],
  documentEntries: [
    fromMemory(
      "ADR 5.4.1.1.1",
      "UN number, LITHIUM ION BATTERIES, 9, tunnel restriction code, number and kind of packages, mass",
    ),
  ],
};

const critical = [
  readIn(
    SP376,
    "A battery liable to rapidly disassemble, react dangerously, produce flame, dangerous heat or dangerous gases is packed by P911, one large battery by LP906, or as the competent authority approves.",
  ),
  readIn(
    P911,
    "By test: outside of the package not above 100 °C (200 °C for a moment), no flame outside, no projectiles, the package stays whole, gases are managed.",
  ),
  readIn(EBOOK, "The packaging meets the tests of packing group I."),
  fromMemory("ADR 1.1.3.6", "Transport category 0: there is no relief for small loads."),
  houseRule("This house sends no such pack itself: a specialist collects it, and the adviser names the packing."),
];

const remarks = [
  readIn(
    "PHMSA interpretation 24-0050 and the text of special provision 377",
    "The relief for disposal or recycling (special provision 377, P909) is not for damaged or defective batteries.",
  ),
  readIn(`${EBOOK} and ${SP376}`, "Special provision 230 does not apply to damaged or defective batteries."),
];

export const roadSeaTrack = {
  name: "Road and rail (ADR/RID), sea (IMDG)",
  // From memory: verify the list of parties to the ADR. Only countries the house sends from are needed here.
  countries: [
    "AT",
    "BE",
    "CH",
    "CZ",
    "DE",
    "DK",
    "ES",
    "FI",
    "FR",
    "GB",
    "HU",
    "IE",
    "IT",
    "LU",
    "NL",
    "NO",
    "PL",
    "PT",
    "SE",
    "SI",
    "SK",
  ],
  damaged,
  notDamaged,
  critical,
  remarks: [
    ...remarks,
    fromMemory("IMDG Code 7.1.5, SW19", "At sea: stowage category C unless the voyage is a short international one."),
  ],
};

export const overseasTrack = {
  name: "Sea (IMDG), with the road code of the country for the way to the port",
  countries: ["AU", "IN", "NZ"],
  damaged,
  notDamaged,
  critical,
  remarks: [
    ...remarks,
    fromMemory(
      "the road code of the country (Australia: ADG Code; India: Central Motor Vehicles Rules)",
      "The way to the port falls under the country's own road code, which this rule set does not hold: ask the adviser before anything moves.",
    ),
    fromMemory("IMDG Code 7.1.5, SW19", "At sea: stowage category C unless the voyage is a short international one."),
  ],
};
