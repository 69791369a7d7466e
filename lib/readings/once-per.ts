/** Makes what several ask of one thing be worked out once for it. The thing never changes, and nobody changes the answer. */
export function oncePer<Thing extends object, Answer extends object | null>(
  work: (thing: Thing) => Answer,
): (thing: Thing) => Answer {
  const known = new WeakMap<Thing, Answer>();
  return (thing) => {
    const before = known.get(thing);
    if (before !== undefined) return before;
    const found = work(thing);
    known.set(thing, found);
    return found;
  };
}
