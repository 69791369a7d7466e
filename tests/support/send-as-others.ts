import type { Page, Request, Route } from "playwright-core";
import { expect } from "vitest";

/**
 * While `send` runs, what the page sends to the server is sent first by others: with their own sign-in, and with the very
 * body of whoever may. None of them may get it done. The version in the body is still the one on screen when `send` goes
 * on, so that its success shows too that nothing was moved before.
 */
export async function refusedToOthers<T>(page: Page, others: readonly Page[], send: () => Promise<T>): Promise<T> {
  const tried: string[] = [];
  const isAction = (url: URL) => url.origin === new URL(page.url()).origin;
  const first = async (route: Route, request: Request) => {
    const action = request.headers()["next-action"];
    if (action !== undefined) {
      for (const other of others) tried.push(await answerTo(other, request));
    }
    await route.continue();
  };
  await page.route(isAction, first);
  const sent = await send().finally(() => page.unroute(isAction, first));
  expect(tried, "nobody else was asked").toHaveLength(others.length);
  for (const answer of tried) expect(answer).toMatch(/^404|"kind":"refused"|"ok":false/);
  return sent;
}

async function answerTo(other: Page, request: Request): Promise<string> {
  const { cookie: _own, "content-length": _length, host: _host, ...headers } = request.headers();
  const data = request.postDataBuffer();
  if (data === null) throw new Error("the page sent nothing");
  const answer = await other.context().request.post(request.url(), { headers, data, maxRedirects: 0 });
  return `${answer.status()} ${await answer.text()}`;
}
