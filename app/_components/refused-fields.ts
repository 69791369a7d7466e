"use client";

import { createContext, useContext } from "react";

/** Of the form around: what is wrong with which of its fields, by their names. */
export const RefusedFields = createContext<Readonly<Record<string, string>>>({});

/** The sentence that stands at this field; undefined where nothing is wrong with it. */
export function useRefusalAt(name: string): string | undefined {
  return useContext(RefusedFields)[name];
}
