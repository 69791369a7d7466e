import { linesFile } from "@/app/_exports/lines-file";
import { exportLines } from "@/lib/data/money/settlement";

export async function GET(): Promise<Response> {
  return linesFile(exportLines, "money-lines");
}
