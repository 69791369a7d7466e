import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { createNumberRoom, mostNumbersIn } from "@/lib/data/reading-worker/number-room";
import { enterStage, newProgress } from "@/lib/data/reading-worker/reading-task";
import { limitWhileReading } from "@/lib/data/reading-worker/time-limit";

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

test("the time a file waits for a thread counts for nothing, the time it is read does", () => {
  const progress = newProgress();
  const stop = vi.fn();
  limitWhileReading(progress, 120, stop);
  vi.advanceTimersByTime(600_000);
  expect(stop).not.toHaveBeenCalled();
  enterStage(progress, "reading");
  vi.advanceTimersByTime(100_000);
  enterStage(progress, "judging");
  expect(stop).not.toHaveBeenCalled();
  vi.advanceTimersByTime(21_000);
  expect(stop).toHaveBeenCalledOnce();
});

test("a limit that was called off stops nothing", () => {
  const progress = newProgress();
  const stop = vi.fn();
  const callOff = limitWhileReading(progress, 1, stop);
  enterStage(progress, "reading");
  vi.advanceTimersByTime(500);
  callOff();
  vi.advanceTimersByTime(10_000);
  expect(stop).not.toHaveBeenCalled();
});

const never = new AbortController().signal;

test("files are read together while their numbers have room together, in the order they came", async () => {
  const room = createNumberRoom(100);
  const entered: string[] = [];
  const enter = (name: string, numbers: number) => room.enter(numbers, never).then(() => entered.push(name));
  const all = [enter("first", 60), enter("second", 60), enter("third", 30)];
  await all[0];
  expect(entered).toEqual(["first"]);
  room.leave(60);
  await Promise.all(all);
  expect(entered).toEqual(["first", "second", "third"]);
});

test("a file larger than the room is read alone, and one that is called off while it waits holds nobody up", async () => {
  const room = createNumberRoom(100);
  await room.enter(500, never);
  const calling = new AbortController();
  const called = room.enter(500, calling.signal);
  const small = room.enter(1, never);
  calling.abort("gone");
  await expect(called).rejects.toBe("gone");
  room.leave(500);
  await small;
  await expect(room.enter(1, calling.signal)).rejects.toBe("gone");
});

test("a file holds at most one number in two of its bytes", () => {
  expect([mostNumbersIn(0), mostNumbersIn(5), mostNumbersIn(256 << 20)]).toEqual([0, 3, 134_217_728]);
});
