import type { ComponentProps, ReactNode } from "react";
import type { Actor } from "@/lib/access/actor";
import { DealerFrame } from "./dealer-frame";
import { HouseFrame } from "./house-frame";

interface OwnFrameProps {
  readonly actor: Actor;
  /** Which way of the house's, and of the dealer's, the page belongs to. */
  readonly ofHouse: NonNullable<ComponentProps<typeof HouseFrame>["current"]>;
  readonly ofDealer?: NonNullable<ComponentProps<typeof DealerFrame>["current"]>;
  readonly children: ReactNode;
}

/** The frame of whoever looks, for pages that house and dealers share. */
export function OwnFrame({ actor, ofHouse, ofDealer, children }: OwnFrameProps) {
  return actor.dealerId === null ? (
    <HouseFrame actor={actor} current={ofHouse}>
      {children}
    </HouseFrame>
  ) : (
    <DealerFrame actor={actor} {...(ofDealer === undefined ? {} : { current: ofDealer })}>
      {children}
    </DealerFrame>
  );
}
