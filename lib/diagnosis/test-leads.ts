/** How a suggestion introduces the test it names: kept suggestions are read by these words, so they do not change. */
export const testLeads = { tells: "To be able to tell: ", confirms: "To confirm: " } as const;
