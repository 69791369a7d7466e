import { type Guard, unless } from "./case-guards";

// Conditions of what comes after a return was lodged: a proof of purchase, or readings.

export const proofIsKept: Guard = ({ standing }) => unless(standing.known.hasProof, "proof-missing");

export const provenDayIsGiven: Guard = ({ stated }) => unless(stated.provenSoldOn !== undefined, "proof-day-missing");

export const readingsAreRead: Guard = ({ standing }) => unless(standing.known.hasNewReadings, "readings-missing");
