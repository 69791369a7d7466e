interface PartlyRead {
  readonly issues: readonly { readonly path?: readonly PropertyKey[] | undefined }[];
}

/**
 * When a rule over several fields may run: as soon as those fields are sound, whatever is wrong elsewhere. Without it
 * such a rule waits until all else is right, and a person corrects the form only to be told of the next mistake.
 */
export function whereSound(...fields: readonly string[]): (read: PartlyRead) => boolean {
  return ({ issues }) => issues.every(({ path = [] }) => typeof path[0] === "string" && !fields.includes(path[0]));
}
