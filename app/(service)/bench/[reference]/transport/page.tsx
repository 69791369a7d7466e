import type { Metadata } from "next";
import { TransportOfLeg } from "./transport-of-leg";

export const metadata: Metadata = { title: "Transport to us" };

interface TransportPageProps {
  readonly params: Promise<{ readonly reference: string }>;
}

export default async function TransportPage({ params }: TransportPageProps) {
  return <TransportOfLeg reference={(await params).reference} leg="to-maker" said={null} />;
}
