import type { Metadata } from "next";
import { LetterPage } from "../letter-page";
import type { SheetPageProps } from "../open-sheet";

export const metadata: Metadata = { title: "Finding letter" };

export default function FindingLetterPage(props: SheetPageProps) {
  return <LetterPage {...props} kind="finding-letter" />;
}
