import { type Guard, unless } from "./case-guards";

// Conditions of giving the answer on cover anew, where a proof of purchase came after it.

export const proofIsKept: Guard = ({ standing }) => unless(standing.known.hasProof, "proof-missing");

export const provenDayIsGiven: Guard = ({ stated }) => unless(stated.provenSoldOn !== undefined, "proof-day-missing");
