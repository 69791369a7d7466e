import Link from "next/link";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { linkClass } from "./link-class";

/** Said wherever thresholds are shown or proposed: what a change reaches, and what it never does. */
export function WhatAChangeDoes({ actor }: { readonly actor: Actor }) {
  return (
    <ul className="list-disc space-y-1 pl-5">
      <li>Files sent in from the first day on are judged by the new thresholds.</li>
      <li>
        Past findings and suggestions stay as they were, each with the thresholds it was judged by.{" "}
        {may(actor, "propose-thresholds") ? (
          <Link href="/thresholds/replay" className={linkClass}>
            Judge a past file anew, which changes nothing
          </Link>
        ) : null}
      </li>
      <li>A less sensitive sign of danger leaves packs unnoticed that may burn. Ask the safety officer first.</li>
    </ul>
  );
}
