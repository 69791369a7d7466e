import { linesFile } from "@/app/_exports/lines-file";
import { readOwnLines } from "@/lib/data/money/settlement";

export async function GET(): Promise<Response> {
  return linesFile(readOwnLines, "statement");
}
