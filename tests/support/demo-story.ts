import { plusDays } from "@/lib/warranty/calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { buildScenario } from "@/seed/scenario/build-scenario";
import { lastDataDate } from "@/seed/scenario/story-calendar";

/** The story as the demo tells it that was filled today: its serials and dates move with the weeks. */
export const demoStory = buildScenario({ asOf: lastDataDate(civilDateAt(new Date(), "UTC")) });

/** Days on which a customer of the demo may have noticed and told a fault: over in every zone of its dealers. */
export const noticedOn = plusDays(demoStory.asOf, -2);
export const toldOn = plusDays(demoStory.asOf, -1);
