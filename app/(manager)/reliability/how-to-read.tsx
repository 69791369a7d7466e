import { coverageStatements } from "@/lib/stats/coverage-statement";

/** The words a reader must know, said once and folded away for those who do. */
export function HowToRead() {
  return (
    <details>
      <summary className="flex min-h-11 cursor-pointer items-center font-semibold text-accent underline underline-offset-4">
        How to read these numbers
      </summary>
      <dl className="max-w-4xl space-y-3">
        <div>
          <dt className="font-semibold">At equal age</dt>
          <dd>
            Packs are compared when they have been in use equally long, counted from the day of sale. A revision sold
            last month has had no time to fail; that says nothing in its favour.
          </dd>
        </div>
        <div>
          <dt className="font-semibold">95 % limits</dt>
          <dd>
            The true share cannot be known from a limited number of packs. The two limits are drawn so that in 95 of 100
            such cases the truth lies between them. The fewer packs, the further they stand apart.
          </dd>
        </div>
        <div>
          <dt className="font-semibold">Where the limits hold less, or more, than they say</dt>
          <dd>
            <ul className="list-disc pl-5">
              {coverageStatements.map(({ limits, where, elsewhere }) => (
                <li key={limits}>
                  {limits}: {where} {elsewhere}
                </li>
              ))}
            </ul>
          </dd>
        </div>
        <div>
          <dt className="font-semibold">Packs at risk</dt>
          <dd>
            How many packs have reached that age in use, watched and not failed before. With fewer than 20 the curve is
            grey, and no share is given.
          </dd>
        </div>
        <div>
          <dt className="font-semibold">Failure</dt>
          <dd>
            A fault of the pack that the bench confirmed, told within cover. Returns in which nothing was found, or
            whose cause lay outside the pack, are no failures; undecided ones are counted apart.
          </dd>
        </div>
        <div>
          <dt className="font-semibold">Which record of a pack counts</dt>
          <dd>
            A pack is counted by what it was built from: its revision and its lots at the end of the line. A pack with
            cells of two lots counts with each of the two. A part that a repair put in later moves it to no other group.
            The diagnosis of one pack holds its readings against the pack as it was when they were taken, repairs
            included.
          </dd>
        </div>
      </dl>
    </details>
  );
}
