import { badCellLotCode } from "./lots";
import type { ScenarioKnownIssue } from "./scenario";
import { stableId } from "./stable-id";
import type { StoryCalendar } from "./story-calendar";

/** What the maker already knows on the data date. The young revision is not among them: that is for the reader to find. */
export function buildKnownIssues(at: StoryCalendar): ScenarioKnownIssue[] {
  const issues: readonly Omit<ScenarioKnownIssue, "id">[] = [
    {
      title: "Cell lot loses capacity early, some groups discharge themselves",
      revisionCode: null,
      lotCode: badCellLotCode,
      faults: ["weak-cell", "self-discharge"],
      action: "Replace on any sign of short range or loss while standing. Do not balance and hand back.",
      suggestedRemedy: "replace",
      openedOn: at("2026-03-09"),
      closedOn: null,
      stopShip: true,
    },
    {
      title: "Balancing stops too early with firmware 1.5.1",
      revisionCode: "GW-A",
      lotCode: null,
      faults: ["imbalance"],
      action: "Save the readings first, then load firmware 1.7.0 and charge for 48 hours under supervision.",
      suggestedRemedy: "remote-fix",
      openedOn: at("2024-08-05"),
      closedOn: null,
      stopShip: false,
    },
    {
      title: "Leads of the temperature sensor chafe on the case edge",
      revisionCode: "BR-A",
      lotCode: null,
      faults: ["temperature-sensor"],
      action: "Exchange the lead and fit the edge guard.",
      suggestedRemedy: "repair",
      openedOn: at("2024-04-22"),
      closedOn: null,
      stopShip: false,
    },
    {
      title: "Main lead lug works loose",
      revisionCode: "TF-A",
      lotCode: null,
      faults: ["main-lead"],
      action: "Exchange the lug for the crimped one and test at full current.",
      suggestedRemedy: "repair",
      openedOn: at("2025-05-19"),
      closedOn: null,
      stopShip: false,
    },
    {
      title: "Potting left a void beside the switch board",
      revisionCode: "BR-C",
      lotCode: "PBR-16",
      faults: ["water-ingress", "power-stage-fault"],
      action: "Sample of twelve packs opened, none affected.",
      suggestedRemedy: "return-as-is",
      openedOn: at("2025-07-14"),
      closedOn: at("2025-09-22"),
      stopShip: false,
    },
  ];
  return issues.map((issue) => ({ ...issue, id: stableId("issue", issue.title, `${issue.openedOn}T08:00:00Z`) }));
}
