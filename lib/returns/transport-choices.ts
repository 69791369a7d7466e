import { transportClasses, transportClassLabels } from "@/lib/transport/transport-class";

/** The classes a person may declare, gravest first, so that the careful answer is the first one read. */
export const transportFieldChoices = transportClasses.map((value) => ({ value, label: transportClassLabels[value] }));
