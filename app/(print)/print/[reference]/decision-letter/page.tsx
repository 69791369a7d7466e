import type { Metadata } from "next";
import { LetterPage } from "../letter-page";
import type { SheetPageProps } from "../open-sheet";

export const metadata: Metadata = { title: "Decision letter" };

export default function DecisionLetterPage(props: SheetPageProps) {
  return <LetterPage {...props} kind="decision-letter" />;
}
