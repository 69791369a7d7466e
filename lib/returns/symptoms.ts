export const symptoms = [
  "does-not-switch-on",
  "does-not-charge",
  "charges-only-partly",
  "cuts-out-under-load",
  "short-range",
  "loses-charge-standing",
  "shows-a-warning",
  "gets-hot-in-use",
  "damaged-case-or-connector",
  "noise-or-smell",
  "something-else",
] as const;
export type Symptom = (typeof symptoms)[number];

export const symptomLabels: Readonly<Record<Symptom, string>> = {
  "does-not-switch-on": "Does not switch on",
  "does-not-charge": "Does not charge",
  "charges-only-partly": "Stops charging before it is full",
  "cuts-out-under-load": "Cuts out when accelerating or climbing",
  "short-range": "Does not go as far as it used to",
  "loses-charge-standing": "Loses charge while standing",
  "shows-a-warning": "Shows a warning or a code",
  "gets-hot-in-use": "Gets unusually hot in use or on charge",
  "damaged-case-or-connector": "Case, lead or connector damaged",
  "noise-or-smell": "Makes a noise or smells",
  "something-else": "Something else",
};
