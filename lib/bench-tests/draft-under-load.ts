import { type DraftFacts, LIVE, LOADED, ofBuild, ofModel, plainTest, practice, rounded } from "./draft-parts";

/** Tests with current: resistance, capacity, voltage lost, heat. */
export function underLoad({ groups, ratedCapacityAh, continuousDischargeA, groupResistanceMilliohm }: DraftFacts) {
  const drop =
    groupResistanceMilliohm === null ? null : (continuousDischargeA * groups * groupResistanceMilliohm) / 1000;
  const resistance =
    groupResistanceMilliohm === null
      ? []
      : [
          {
            ...plainTest,
            key: "group-resistance",
            title: "Resistance of the worst group",
            phase: "light-load",
            shows: "A tired cell group, or a weld or link that conducts badly.",
            method:
              "A short pulse, four wires, at about half charge and room temperature. Across each group, then across the links of the worst one. Keep the highest group.",
            caution: LIVE,
            isMandatory: true,
            isRetest: true,
            beside: ["resistance-"],
            reading: {
              kind: "number",
              instrument: "four-wire-ohmmeter",
              unit: "mΩ",
              limits: ofModel(
                null,
                rounded(groupResistanceMilliohm * 1.5),
                "Half as much again as a healthy group; engineering default",
              ),
              buildLimits: ofBuild(
                null,
                rounded(groupResistanceMilliohm * 1.15),
                "Upper limit at the end of the line; rule of this house",
              ),
            },
          },
        ];
  const sag =
    drop === null
      ? []
      : [
          {
            ...plainTest,
            key: "load-drop",
            title: "Voltage lost at full continuous current",
            phase: "under-load",
            shows: "What the rider feels: joints, cells and leads together, at the current that matters.",
            method: `From about half charge: ${continuousDischargeA} A for ten seconds, once. Keep the voltage before less the voltage at the end.`,
            caution: LOADED,
            isMandatory: true,
            isRetest: true,
            beside: ["resistance-"],
            reading: {
              kind: "number",
              instrument: "load-bench",
              unit: "V",
              limits: ofModel(null, rounded(drop * 1.6), "1.6 times what healthy groups lose; engineering default"),
              buildLimits: ofBuild(null, rounded(drop * 1.3), "Upper limit at the end of the line; rule of this house"),
            },
          },
        ];
  return [
    ...resistance,
    {
      ...plainTest,
      key: "capacity",
      title: "Capacity from full to the first empty group",
      phase: "under-load",
      shows: "How much charge is really left, and which group ends it.",
      method:
        "Charge to the end with the maker's charger, rest an hour, then discharge at a fifth of the rated capacity per hour and about 25 °C until the first group is empty.",
      caution: LOADED,
      isMandatory: true,
      isRetest: true,
      beside: ["capacity-"],
      reading: {
        kind: "number",
        instrument: "capacity-bench",
        unit: "Ah",
        limits: ofModel(
          rounded(ratedCapacityAh * 0.8),
          null,
          "80 % of the rated capacity, the usual end of life in data sheets",
        ),
        buildLimits: ofBuild(
          rounded(ratedCapacityAh * 0.98),
          null,
          "Lower limit at the end of the line; rule of this house",
        ),
      },
    },
    ...sag,
    {
      ...plainTest,
      key: "hot-place",
      title: "Hottest place under load, less the middle of the pack",
      phase: "under-load",
      shows: "A joint, a lead or a switch that turns current into heat.",
      method: "Thermal camera or probes at leads, links and switches after ten minutes at half the continuous current.",
      caution: LOADED,
      isMandatory: true,
      isRetest: true,
      beside: ["temperature-"],
      reading: {
        kind: "number",
        instrument: "thermometer",
        unit: "K",
        limits: practice(null, 10, "More than 10 K at half current is looked into; engineering default, no source"),
        buildLimits: ofBuild(null, 8, "Upper limit at the end of the line; rule of this house"),
      },
    },
  ];
}
