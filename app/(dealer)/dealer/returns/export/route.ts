import { returnsFile } from "@/app/_exports/returns-file";

export async function GET(): Promise<Response> {
  return returnsFile();
}
