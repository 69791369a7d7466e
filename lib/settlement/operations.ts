/** Work a dealer may be paid for, with the time allowed for it. Engineering defaults, no authority: the maker's to set. */
export const operations = [
  { code: "take-in", label: "Taking in, danger check and photographs", minutesAllowed: 20 },
  { code: "read-out", label: "Reading the pack out and sending the file", minutesAllowed: 15 },
  { code: "remote-fix", label: "Carrying out what the maker advised", minutesAllowed: 30 },
  { code: "exchange", label: "Exchanging the pack and testing the vehicle", minutesAllowed: 40 },
  { code: "pack-for-carrier", label: "Packing and labelling for the carrier", minutesAllowed: 25 },
] as const;

export const operationCodes = operations.map(({ code }) => code);

export function operationOf(code: string): (typeof operations)[number] | null {
  return operations.find((operation) => operation.code === code) ?? null;
}
