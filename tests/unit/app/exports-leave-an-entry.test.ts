import { readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";

const app = path.resolve(import.meta.dirname, "../../../app");
const sources = readdirSync(app, { recursive: true, encoding: "utf8" }).filter((file) => /\.tsx?$/.test(file));
const read = (file: string) => readFileSync(path.join(app, file), "utf8");

test("an original log and a photograph leave an entry before their bytes are sent", () => {
  const opens = (reader: string) => sources.filter((file) => new RegExp(`\\b${reader}\\(`).test(read(file)));
  expect(opens("openReturnFile").map((file) => [file, /await originalLeaves\(/.test(read(file))])).toEqual([
    ["(service)/bench/[reference]/file/route.ts", true],
  ]);
  expect(opens("openPackPhoto").map((file) => [file, /await photographLeaves\(/.test(read(file))])).toEqual([
    ["_photos/show-photo.ts", true],
  ]);
});

test("a table leaves the house through the one door that leaves an entry", () => {
  const direct = sources.filter((file) => /\bcsvDownload\b/.test(read(file)));
  expect(direct.sort()).toEqual(["_components/csv-download.ts", "_exports/file-leaves.ts"]);
  const routes = sources.filter((file) => /export\/route\.ts$/.test(file));
  expect(routes.length).toBeGreaterThan(10);
  for (const route of routes) expect(read(route), route).toMatch(/fileLeaves|returnsFile|linesFile/);
});
