import { fromMemory, readIn } from "@/lib/transport/sourced-text";
import { unionAndArea } from "@/lib/transport/union-and-area";
import { clockSetSchema } from "./reporting-clock.schema";

const CFR1115 = "16 CFR 1115.14";
const CCPSA = "Health Canada's guidance of June 2011, quoting the Canada Consumer Product Safety Act, section 14";
const ACL = "productsafety.gov.au, mandatory reporting";

/**
 * Clocks that may be running once this house knows of an event. They show when something is due at the latest; whether
 * a duty exists is for counsel and a named person to say, never for this program.
 */
export const reportingClocks = clockSetSchema.parse({
  version: "2026-2",
  validFrom: "2026-01-01",
  owner: "the maker's counsel, per country",
  clocks: [
    {
      id: "eu-accident",
      place: "European Union and EEA",
      name: "Accident caused by a product (GPSR, Article 20)",
      countries: unionAndArea,
      trigger: readIn(
        "Regulation (EU) 2023/988, Article 20 (German text)",
        "An accident caused by the product: an occurrence with its use that led to death or to serious adverse effects on health and safety, permanent or temporary, including injuries.",
      ),
      limit: { kind: "at-once" },
      limitInWords: readIn(
        "Regulation (EU) 2023/988, Article 20(1) (German text)",
        "Without undue delay from knowledge of the accident, through the Safety Business Gateway.",
      ),
      startsWith: "first-knowledge",
      authority: "Authorities of the member state where the accident happened",
      zone: "Europe/Brussels",
    },
    {
      id: "eu-dangerous-product",
      place: "European Union and EEA",
      name: "Dangerous product",
      countries: unionAndArea,
      trigger: readIn(
        "Regulation (EU) 2023/1542, Article 42, and a law firm's account of Regulation (EU) 2023/988 (7 November 2025)",
        "The product presents a risk; dealers must tell the maker or importer and the authorities.",
      ),
      limit: { kind: "at-once" },
      limitInWords: readIn(
        "a law firm's account of Regulation (EU) 2023/988 (7 November 2025)",
        "Immediately, through the Safety Business Gateway, and to consumers.",
      ),
      startsWith: "first-knowledge",
      authority: "Market surveillance authorities",
      zone: "Europe/Brussels",
    },
    // Northern Ireland has no country code of its own beside GB; "XI" is the Union's. Whether the event belongs there a person says.
    {
      id: "xi-accident",
      place: "United Kingdom (Northern Ireland)",
      name: "Accident caused by a product, where Northern Ireland is concerned (GPSR, Article 20)",
      countries: ["GB", "XI"],
      trigger: fromMemory(
        "Windsor Framework, Annex 2, with Regulation (EU) 2023/988, Article 20",
        "The accident happened in Northern Ireland, or the product was placed on the market there; otherwise as in the Union.",
      ),
      limit: { kind: "at-once" },
      limitInWords: fromMemory(
        "Regulation (EU) 2023/988, Article 20(1), as it applies in Northern Ireland",
        "Without undue delay from knowledge of the accident.",
      ),
      startsWith: "first-knowledge",
      authority: "Market surveillance authority in Northern Ireland or OPSS",
      zone: "Europe/London",
    },
    {
      id: "xi-dangerous-product",
      place: "United Kingdom (Northern Ireland)",
      name: "Dangerous product, where Northern Ireland is concerned",
      countries: ["GB", "XI"],
      trigger: fromMemory(
        "Windsor Framework, Annex 2, with Regulation (EU) 2023/988, Article 9",
        "A product that was placed on the market in Northern Ireland presents a risk.",
      ),
      limit: { kind: "at-once" },
      limitInWords: fromMemory(
        "Regulation (EU) 2023/988, Article 9, as it applies in Northern Ireland",
        "Immediately.",
      ),
      startsWith: "first-knowledge",
      authority: "Market surveillance authority in Northern Ireland or OPSS",
      zone: "Europe/London",
    },
    {
      id: "us-cpsc-report",
      place: "United States",
      name: "Consumer product (CPSA, section 15(b))",
      countries: ["US"],
      trigger: readIn(
        "16 CFR 1115.12 and 1115.14(c)",
        "Information that reasonably supports a defect that could create a substantial hazard, an unreasonable risk of serious injury or death, or a breach of a rule; complaints, injury reports and engineering data count, and one does not wait for complete or accurate estimates.",
      ),
      limit: { kind: "hours", hours: 24, workingDaysOnly: true },
      limitInWords: readIn(
        CFR1115,
        "Within 24 hours of reportable information; weekends and holidays are left out of the count (paragraph (a)).",
      ),
      startsWith: "first-knowledge",
      authority: "Consumer Product Safety Commission",
      zone: "America/New_York",
    },
    {
      id: "us-cpsc-knowledge",
      place: "United States",
      name: "Knowledge reaches the person responsible (CPSA)",
      countries: ["US"],
      trigger: readIn(`${CFR1115}(b)`, "Information reached an official or employee able to see what it means."),
      limit: { kind: "days", days: 5, counted: "working-days", movesToWorkingDay: false },
      limitInWords: readIn(
        `${CFR1115}(b)`,
        "Under ordinary circumstances 5 days at most for information to reach whoever is responsible for reporting; then knowledge is imputed.",
      ),
      startsWith: "first-knowledge",
      authority: "Consumer Product Safety Commission",
      zone: "America/New_York",
    },
    {
      id: "us-cpsc-investigation",
      place: "United States",
      name: "Investigation and evaluation (CPSA)",
      countries: ["US"],
      trigger: readIn(`${CFR1115}(c)`, "Information is not clearly reportable and is being investigated."),
      limit: { kind: "days", days: 10, counted: "working-days", movesToWorkingDay: false },
      limitInWords: readIn(`${CFR1115}(d)`, "Investigation and evaluation should not exceed 10 days."),
      startsWith: "first-knowledge",
      authority: "Consumer Product Safety Commission",
      zone: "America/New_York",
    },
    {
      id: "us-vehicle-defect",
      place: "United States",
      name: "Motor vehicle or equipment for one (49 CFR 573.6)",
      countries: ["US"],
      trigger: readIn(
        "49 CFR 573.6(a)",
        "A defect in a vehicle or in original or replacement equipment that the manufacturer or the Administrator determines to be related to motor vehicle safety.",
      ),
      limit: { kind: "days", days: 5, counted: "working-days", movesToWorkingDay: false },
      limitInWords: readIn(
        "49 CFR 573.6(b)",
        "Not more than 5 working days after a defect has been determined to be safety related.",
      ),
      startsWith: "determination",
      authority: "National Highway Traffic Safety Administration",
      zone: "America/New_York",
    },
    {
      id: "uk-unsafe-product",
      place: "United Kingdom (Great Britain)",
      name: "Unsafe product (GPSR 2005, regulation 9)",
      countries: ["GB"],
      trigger: fromMemory(
        "General Product Safety Regulations 2005, regulation 9",
        "A producer or distributor knows that a product placed on the market is not safe.",
      ),
      limit: { kind: "at-once" },
      limitInWords: fromMemory("General Product Safety Regulations 2005, regulation 9", "Forthwith, in writing."),
      startsWith: "first-knowledge",
      authority: "Market surveillance authority or OPSS",
      zone: "Europe/London",
    },
    {
      id: "au-injury",
      place: "Australia",
      name: "Death, serious injury or illness (ACL, section 131)",
      countries: [],
      lawOf: ["AU"],
      trigger: readIn(
        ACL,
        "A death, serious injury or serious illness that the supplier, or someone else, considers was or may have been caused by the product; everyone in the chain reports, repairers included. Events overseas count too.",
      ),
      limit: { kind: "days", days: 2, counted: "every-day", movesToWorkingDay: true },
      limitInWords: readIn(
        ACL,
        "Within two days; the day of becoming aware is not counted, and a due day on a weekend or public holiday moves to the next day that is none.",
      ),
      startsWith: "first-knowledge",
      authority: "ACCC",
      zone: "Australia/Sydney",
    },
    {
      id: "ca-incident",
      place: "Canada",
      name: "Incident, all information (CCPSA, section 14(2))",
      countries: [],
      lawOf: ["CA"],
      trigger: readIn(
        CCPSA,
        "An occurrence in Canada or elsewhere, a defect or a label fault that resulted or may reasonably be expected to result in death or serious adverse effects on health, or a recall elsewhere, for a product sold in Canada.",
      ),
      limit: { kind: "days", days: 2, counted: "every-day", movesToWorkingDay: false },
      limitInWords: readIn(CCPSA, "Within two days after the day on which one becomes aware of the incident."),
      startsWith: "first-knowledge",
      authority: "Health Canada, and the person from whom the product was received",
      zone: "America/Toronto",
    },
    {
      id: "ca-written-report",
      place: "Canada",
      name: "Written report of the manufacturer or importer (CCPSA, section 14(3))",
      countries: [],
      lawOf: ["CA"],
      trigger: readIn(CCPSA, "The same incident; the written report names similar products and the measures proposed."),
      limit: { kind: "days", days: 10, counted: "every-day", movesToWorkingDay: false },
      limitInWords: readIn(
        CCPSA,
        "Within 10 days after the day on which one becomes aware, or as the Minister specifies.",
      ),
      startsWith: "first-knowledge",
      authority: "Health Canada",
      zone: "America/Toronto",
    },
  ],
});
