import { type DraftFacts, HOT_OR_GAS, LIVE, look, ofBuild, ofModel, plainTest, practice, rounded } from "./draft-parts";

/** Tests that change nothing: looking, insulation, voltages at rest. */
export function beforeLoad({ groups, cellMinV, cellMaxV }: DraftFacts) {
  return [
    {
      ...plainTest,
      key: "outside",
      title: "Look at it from all sides",
      phase: "look",
      shows: "Blows, swelling, leaks, traces of water, a pulled lead, a seal that was opened.",
      method:
        "Photograph every face, the label and the connector before anything is touched or wiped. Compare the case with the gap recorded when it was built.",
      caution: HOT_OR_GAS,
      isMandatory: true,
      isRetest: true,
      reading: look(
        "Case, seam, lead and connector are whole and dry, the label belongs to the pack, nothing is swollen.",
      ),
    },
    {
      ...plainTest,
      key: "log-saved",
      title: "Read the log out and keep it",
      phase: "look",
      shows: "What the monitoring board saw before it came here. A later charge or a new firmware may write over it.",
      method:
        "Connect to the board without charging or waking the power stage. Save the whole log before any other step.",
      isMandatory: true,
      isRetest: false,
      reading: look("The log could be read and lies with the return."),
    },
    {
      ...plainTest,
      key: "insulation",
      title: "Insulation between poles and case",
      phase: "insulation",
      shows: "Water, a chafed lead or leaked electrolyte between the cells and the case.",
      method:
        "Measure from each pole to bare metal of the case with the test voltage the house names, one minute each. Keep the lower of the two.",
      caution: LIVE,
      isMandatory: true,
      isRetest: true,
      reading: {
        kind: "number",
        instrument: "insulation-tester",
        unit: "MΩ",
        limits: practice(1, null, "Common practice of the trade, no source"),
        buildLimits: ofBuild(20, null, "Lower limit at the end of the line; rule of this house"),
      },
    },
    {
      ...plainTest,
      key: "terminal-voltage",
      title: "Voltage at the terminals",
      phase: "at-rest",
      shows: "Whether the pack is between empty and full, and whether the main path is whole.",
      method:
        "Four hours after the last charge or ride. Touch the terminals with insulated tips and read after ten seconds.",
      caution: LIVE,
      isMandatory: true,
      isRetest: true,
      beside: ["spread-rest"],
      reading: {
        kind: "number",
        instrument: "voltmeter",
        unit: "V",
        limits: ofModel(
          rounded(groups * cellMinV),
          rounded(groups * cellMaxV),
          "Lowest and highest cell voltage, times the groups",
        ),
        buildLimits: ofModel(
          rounded(groups * cellMinV),
          rounded(groups * cellMaxV),
          "Lowest and highest cell voltage, times the groups",
        ),
      },
    },
    {
      ...plainTest,
      key: "rest-spread",
      title: "Highest group less lowest group, at rest",
      phase: "at-rest",
      shows: "Groups out of balance, a weak group, or one that loses charge by itself.",
      method:
        "At the measuring plug of the board, with the board not balancing. Read every group once and keep the highest less the lowest.",
      caution: LIVE,
      isMandatory: true,
      isRetest: true,
      beside: ["spread-"],
      reading: {
        kind: "number",
        instrument: "group-voltmeter",
        unit: "mV",
        limits: practice(
          null,
          30,
          "More than 30 mV in the middle of the charge is looked into; engineering default, no source",
        ),
        buildLimits: ofBuild(null, 10, "Upper limit at the end of the line; rule of this house"),
      },
    },
    {
      ...plainTest,
      key: "rest-drift",
      title: "The same again a day later: how much it grew",
      phase: "at-rest",
      shows: "A group that loses charge by itself, which one reading cannot show.",
      method:
        "Twenty-four hours after the reading before, same temperature within 2 °C, nothing connected, the board not balancing. Keep how much the spread grew.",
      caution: HOT_OR_GAS,
      isMandatory: true,
      isRetest: false,
      beside: ["rest-drift"],
      reading: {
        kind: "number",
        instrument: "group-voltmeter",
        unit: "mV",
        limits: practice(null, 3, "More than 3 mV a day counts as self-discharge; engineering default, no source"),
        buildLimits: null,
      },
    },
  ];
}
