import { fromMemory, houseRule, readIn } from "./sourced-text";

const LION = "lion.com (2019), quoting PHMSA's advisory of 2016";
const CFR = "49 CFR 173.185(f)";

/** United States, highway, rail and vessel. */
export const unitedStatesTrack = {
  name: "United States (49 CFR 173.185)",
  countries: ["US"],
  damaged: {
    instruction: "49 CFR 173.185(f)",
    largeInstruction: null,
    level: readIn(LION, "The outer packaging meets the tests of packing group I."),
    contents: [
      readIn(LION, "Each battery lies in its own non-metallic inner packaging that encloses it completely."),
      readIn(
        LION,
        "The inner packaging is surrounded by cushioning that does not burn, does not conduct electricity, and absorbs.",
      ),
      readIn(LION, "One inner packaging in one outer packaging."),
      readIn(
        "PHMSA interpretation 24-0050 (2 July 2024)",
        "All damaged or defective lithium batteries that may give off dangerous heat, burn or short-circuit go under paragraph (f), also on the way to disposal or recycling.",
      ),
      readIn(
        "PHMSA guidance as reported by lion.com (2023)",
        "Whoever packs and ships is trained for hazardous materials.",
      ),
    ],
    marks: [
      { ...readIn(LION, "Damaged/defective lithium ion battery"), letterHeightMm: 12 },
      { ...fromMemory("49 CFR 172.407 and 172.447", "Lithium battery class 9 label"), letterHeightMm: null },
      {
        ...fromMemory("49 CFR 172.301", "Lithium ion batteries, {UN number}"),
        letterHeightMm: null,
      },
    ],
    documentEntries: [
      fromMemory("49 CFR 172.202", "UN3480, Lithium ion batteries, 9, with quantity and an emergency telephone number"),
    ],
  },
  notDamaged: {
    instruction: "49 CFR 173.185(b)",
    largeInstruction: null,
    level: fromMemory("49 CFR 173.185(b)", "The packaging meets the tests of packing group II."),
    contents: [
      fromMemory(
        "49 CFR 173.185(b)",
        "Short circuits, damage and movement are prevented; the battery lies in an inner packaging.",
      ),
      readIn(
        "PHMSA interpretation 08-0161",
        "A battery above 12 kg with a strong, impact-resistant case may go in a strong outer packaging or a protective enclosure.",
      ),
    ],
    marks: [
      { ...fromMemory("49 CFR 172.407 and 172.447", "Lithium battery class 9 label"), letterHeightMm: null },
      {
        ...fromMemory("49 CFR 172.301", "Lithium ion batteries, {UN number}"),
        letterHeightMm: null,
      },
    ],
    documentEntries: [
      fromMemory("49 CFR 172.202", "UN3480, Lithium ion batteries, 9, with quantity and an emergency telephone number"),
    ],
  },
  critical: [
    fromMemory(CFR, "A battery that shows acute signs moves only as the authority (PHMSA) approves."),
    houseRule("This house sends no such pack itself: a specialist collects it, and the adviser names the packing."),
  ],
  remarks: [
    fromMemory(CFR, "Letters of the mark are at least 12 mm high."),
    readIn("lion.com (2023)", "Carriage of damaged, defective or recalled lithium batteries by air is forbidden."),
    fromMemory(CFR, "Highway, rail and vessel only. The numbers of the sub-paragraphs were not compared."),
  ],
};
