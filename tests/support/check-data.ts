import { existsSync } from "node:fs";
import path from "node:path";

/**
 * Path of an open-data file used by reference tests, or null where it is absent. The files are not part of the
 * repository (they have licences and homes of their own); a test that needs one skips itself with a plain line.
 */
export function checkDataPath(relative: string): string | null {
  const folder = process.env.CHECK_DATA_DIR ?? path.resolve(import.meta.dirname, "../../../shared/checks");
  const file = path.join(folder, relative);
  return existsSync(file) ? file : null;
}
