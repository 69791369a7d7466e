import { afterEach, beforeEach, expect, vi } from "vitest";

/** Console noise in a test hides the next real warning: a test that expects a message replaces this spy itself. */
beforeEach(() => {
  vi.spyOn(console, "error");
  vi.spyOn(console, "warn");
});

afterEach(() => {
  expect(vi.mocked(console.error).mock.calls, "console.error was called").toEqual([]);
  expect(vi.mocked(console.warn).mock.calls, "console.warn was called").toEqual([]);
  vi.restoreAllMocks();
});
