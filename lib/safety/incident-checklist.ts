import { fromMemory, practice, readIn } from "@/lib/transport/sourced-text";

/** What is done once an incident is open, in order. Each line is ticked by a named person. */
export const incidentChecklist = [
  { id: "people", ...practice("People are safe; a doctor was seen after a burn, a shock or breathing vapour.") },
  { id: "isolate", ...practice("The pack is isolated and watched; the local fire service's advice is followed.") },
  {
    id: "evidence",
    ...practice(
      "Pack, charger, vehicle, readings and messages are kept as they are; nothing is opened, charged, reset or wiped.",
    ),
  },
  { id: "photographs", ...practice("The place, the pack and the label were photographed before anything was moved.") },
  {
    id: "dealer",
    ...readIn(
      "Regulation (EU) 2023/988, Article 20(3) (German text)",
      "The dealer was told, and told that it may have a duty of its own.",
    ),
  },
  { id: "counsel", ...practice("Counsel for each country concerned was called.") },
  { id: "insurer", ...practice("The insurer was told.") },
  {
    id: "similar",
    ...practice(
      "Packs of the same revision and lots were looked through for similar events, and shipments of them stopped where needed.",
    ),
  },
  {
    id: "register",
    ...fromMemory(
      "Regulation (EU) 2023/1542, Article 38",
      "The event was entered in the register of complaints and non-conforming batteries.",
    ),
  },
] as const;

/** What a dealer reads where an incident is open on its return. It states facts and duties, and plays nothing down. */
export const dealerIncidentNotice = {
  title: "A safety incident is open on this pack",
  sentences: [
    "Tell us at once of anything you learn about it, by telephone if it cannot wait.",
    "Keep the pack, the charger and the vehicle as they are, isolated. Do not open, charge, test, send or hand back anything.",
    "You may have a duty of your own to tell an authority, and its time may be running. Ask your lawyer or your authority.",
    "Local rules and the emergency services come before anything said here.",
  ],
} as const;
