"use client";

import { useEffect } from "react";

/**
 * Puts the focus where the next scan will go, because at the bench that is what happens next. Not on a phone: there it
 * would open the keyboard over the queue.
 */
export function FocusAtDesk({ id }: { id: string }) {
  useEffect(() => {
    if (matchMedia("(min-width: 64rem) and (pointer: fine)").matches) document.getElementById(id)?.focus();
  }, [id]);
  return null;
}
