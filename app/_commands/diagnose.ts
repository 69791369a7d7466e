import { createReadStream } from "node:fs";
import { readFile, stat } from "node:fs/promises";
import { parseArgs } from "node:util";
import { diagnosisDocument } from "@/app/_commands/diagnosis-document";
import { type Baseline, builtValuesSchema } from "@/lib/diagnosis/baseline";
import { diagnose } from "@/lib/diagnosis/diagnose";
import { type PackModel, packModelSchema } from "@/lib/packs/pack-model";
import { type ColumnMapping, columnMappingSchema } from "@/lib/readings/column-mapping";
import { readReadings } from "@/lib/readings/read-readings";
import { isCalendarDate } from "@/lib/warranty/calendar";

const UNUSABLE_INPUT = 2;
const usage =
  "Name a readings file and its pack model: npm run -s diagnose -- FILE.csv --model MODEL.json [--map MAP.json] [--built BUILD.json] [--built-on YYYY-MM-DD]";
/** Bytes read at a time: large enough that the reads cost nothing beside the decoding. */
const chunkBytes = 1 << 18;

/** `npm run -s diagnose -- FILE.csv --model MODEL.json [--map MAP.json] [--built BUILD.json] [--built-on YYYY-MM-DD]`: one JSON document, or one sentence and exit 2. */
async function main(): Promise<void> {
  const request = readArguments();
  if (request === null) return refuse(usage);
  const model = await readModel(request.modelFile);
  if (typeof model === "string") return refuse(model);
  const mapping = request.mapFile === undefined ? undefined : await readMapping(request.mapFile);
  if (typeof mapping === "string") return refuse(mapping);
  const baseline = request.builtFile === undefined ? undefined : await readBuilt(request.builtFile);
  if (typeof baseline === "string") return refuse(baseline);

  const stream = createReadStream(request.file, { highWaterMark: chunkBytes });
  let streamFailed = false;
  stream.once("error", () => {
    streamFailed = true;
  });
  try {
    const sizeBytes = await stat(request.file).then(({ size }) => size, noSize);
    const receivedUnixS = Date.now() / 1000;
    const readings = await readReadings(stream, { model, mapping, sizeBytes, builtOn: request.builtOn, receivedUnixS });
    if (readings.kind === "unusable") return refuse(`${request.file}: ${readings.sentence}`);
    const { log, summary } = readings;
    const document = diagnosisDocument(summary, diagnose({ log, summary, model, ...(baseline && { baseline }) }));
    process.stdout.write(`${JSON.stringify(document)}\n`);
  } catch (error) {
    if (!streamFailed) throw error;
    refuse(`${request.file} cannot be read.`);
  }
}

interface Request {
  readonly file: string;
  readonly modelFile: string;
  readonly mapFile: string | undefined;
  readonly builtFile: string | undefined;
  /** Day the pack was built: a clock that shows an earlier one was not set. */
  readonly builtOn: string | undefined;
}

/** What cannot be looked at cannot be read either; the stream says so. */
function noSize(): undefined {
  return undefined;
}

function readArguments(): Request | null {
  try {
    const { values, positionals } = parseArgs({
      allowPositionals: true,
      options: {
        model: { type: "string" },
        map: { type: "string" },
        built: { type: "string" },
        "built-on": { type: "string" },
      },
    });
    const [file, ...more] = positionals;
    if (file === undefined || more.length > 0 || values.model === undefined) return null;
    const builtOn = values["built-on"];
    if (builtOn !== undefined && !isCalendarDate(builtOn)) return null;
    return { file, modelFile: values.model, mapFile: values.map, builtFile: values.built, builtOn };
  } catch {
    // parseArgs throws on an unknown or incomplete flag; the usage line answers that.
    return null;
  }
}

async function readModel(file: string): Promise<PackModel | string> {
  const json = await readJson(file);
  if (json.kind === "unreadable") return json.sentence;
  const parsed = packModelSchema.safeParse(json.value);
  if (parsed.success) return parsed.data;
  const issue = parsed.error.issues[0];
  return `${file} is no pack model: ${issue?.path.join(".") || "the document"}: ${issue?.message ?? "not understood"}.`;
}

/** Only the pack's own record: a population needs the packs of its revision, which a file does not hold. */
async function readBuilt(file: string): Promise<Baseline | string> {
  const json = await readJson(file);
  if (json.kind === "unreadable") return json.sentence;
  const parsed = builtValuesSchema.safeParse(json.value);
  if (parsed.success) return { built: parsed.data, population: null, potted: null };
  const issue = parsed.error.issues[0];
  return `${file} is no build record: ${issue?.path.join(".") || "the document"}: ${issue?.message ?? "not understood"}.`;
}

async function readMapping(file: string): Promise<ColumnMapping | string> {
  const json = await readJson(file);
  if (json.kind === "unreadable") return json.sentence;
  const parsed = columnMappingSchema.safeParse(json.value);
  return parsed.success ? parsed.data : `${file} is no column mapping: it must be one object of header and label.`;
}

type Json =
  | { readonly kind: "json"; readonly value: unknown }
  | { readonly kind: "unreadable"; readonly sentence: string };

async function readJson(file: string): Promise<Json> {
  let text: string;
  try {
    text = await readFile(file, "utf8");
  } catch {
    return { kind: "unreadable", sentence: `${file} cannot be read.` };
  }
  try {
    return { kind: "json", value: JSON.parse(text.replace(/^\ufeff/, "")) };
  } catch {
    return { kind: "unreadable", sentence: `${file} does not hold JSON.` };
  }
}

function refuse(sentence: string): void {
  process.stderr.write(`${sentence}\n`);
  process.exitCode = UNUSABLE_INPUT;
}

await main();
