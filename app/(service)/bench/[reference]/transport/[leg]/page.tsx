import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { legs } from "@/lib/transport/leg";
import { TransportOfLeg } from "../transport-of-leg";

export const metadata: Metadata = { title: "Transport" };

interface LegPageProps {
  readonly params: Promise<{ readonly reference: string; readonly leg: string }>;
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
}

/** Class, paper and packing of one way of a return: to us, to the dealer, to a supplier. */
export default async function LegPage({ params, searchParams }: LegPageProps) {
  const { reference, leg: asked } = await params;
  const leg = legs.find((known) => known === asked);
  if (leg === undefined) notFound();
  const { said } = await searchParams;
  return <TransportOfLeg reference={reference} leg={leg} said={typeof said === "string" ? said.slice(0, 300) : null} />;
}
