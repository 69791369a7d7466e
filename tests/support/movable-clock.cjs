// Loaded into the demo server of the browser tests alone (node --require): its clock runs ahead by what the file says, so
// that a day in quarantine and the weeks before closing can be walked through the pages. Nothing of the product knows of it.
const { readFileSync } = require("node:fs");

/** How often the file is looked at; a test waits a little longer than this after it moved the clock. */
const LOOK_EVERY_MS = 50;

const file = process.env.CLOCK_FILE;
if (file) {
  const Real = globalThis.Date;
  let aheadMs = 0;
  const look = () => {
    try {
      aheadMs = Number(readFileSync(file, "utf8")) || 0;
    } catch {
      // Not written yet: the clock is right.
    }
  };
  look();
  setInterval(look, LOOK_EVERY_MS).unref();
  const now = () => Real.now() + aheadMs;
  globalThis.Date = new Proxy(Real, {
    construct: (target, given, asked) => Reflect.construct(target, given.length === 0 ? [now()] : given, asked),
    apply: () => new Real(now()).toString(),
    get: (target, name) => (name === "now" ? now : Reflect.get(target, name)),
  });
  Real.prototype.constructor = globalThis.Date;
}
