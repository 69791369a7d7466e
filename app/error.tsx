"use client";

// Loaded with every page, so it brings none of the parts along; and after a fault a whole load is the safer way home.
const look = "inline-flex min-h-11 cursor-pointer items-center rounded border-2 px-4 py-2 font-semibold";

/** A fault of ours. What was half written stays on this device, so trying again costs nothing. */
export default function ErrorPage({ error, retry }: { error: unknown; retry: () => void }) {
  const number = error instanceof Error && "digest" in error ? String(error.digest) : null;
  return (
    <main className="mx-auto max-w-xl px-4 py-16">
      <h1>This did not work, and it is not your fault</h1>
      <p className="my-4">
        Nothing you sent before is lost, and answers you have not sent yet are kept on this device. If a pack is hot,
        smoking or hissing, keep away from it and call the fire service; do not wait for this page.
      </p>
      {number === null ? null : (
        <p className="mb-4 text-soft">
          If you report this, give the number <span className="font-mono">{number}</span>.
        </p>
      )}
      <p className="flex flex-wrap gap-3">
        <button type="button" onClick={() => retry()} className={`${look} border-accent bg-accent text-accent-ink`}>
          Try again
        </button>
        <a href="/" className={`${look} border-edge bg-raised`}>
          Go to my start page
        </a>
      </p>
    </main>
  );
}
