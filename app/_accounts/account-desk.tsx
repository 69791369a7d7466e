import { AnswerForm } from "@/app/_components/answer-form";
import type { AnswerState } from "@/app/_components/answer-state";
import { AskedSelect, AskedText } from "@/app/_components/asked-fields";
import { DealerSelect } from "@/app/_components/dealer-select";
import { Field, TextInput } from "@/app/_components/field";
import { labelOf } from "@/app/_components/label-of";
import { LocalTime } from "@/app/_components/local-time";
import { Stamp } from "@/app/_components/status-line";
import { type Role, roleWords } from "@/lib/access/actor";
import type { DealerChoice } from "@/lib/data/accounts/dealers";
import type { AccountRow } from "@/lib/data/accounts/users";

type Action = (before: AnswerState, form: FormData) => Promise<AnswerState>;

interface AccountActions {
  readonly invite: Action;
  readonly inviteAgain: Action;
  readonly edit: Action;
  readonly close: Action;
  readonly openAgain: Action;
  /** Absent where deputies of the safety officer are not named. */
  readonly nameDeputy?: Action;
}

interface AccountDeskProps {
  readonly accounts: readonly AccountRow[];
  readonly roles: readonly Role[];
  /** To choose from where the account may be a dealer's; empty where there is no choice. */
  readonly dealers: readonly DealerChoice[];
  readonly ownUserId: string;
  readonly actions: AccountActions;
}

/** Everybody who can sign in, with what may be changed about each, and the form for one more. */
export function AccountDesk({ accounts, roles, dealers, ownUserId, actions }: AccountDeskProps) {
  return (
    <div className="space-y-8">
      <section aria-labelledby="who" className="space-y-3">
        <h2 id="who">Who can sign in, and as what</h2>
        {accounts.length === 0 ? <p>There is no account that you keep.</p> : null}
        <ul className="grid gap-3 *:min-w-0 lg:grid-cols-2">
          {accounts.map((account) => (
            <li key={account.id} className="card space-y-2 p-4">
              <p className="flex flex-wrap items-center gap-x-3">
                <strong>{account.name}</strong>
                {account.closedAt === null ? null : <Stamp tone="warn">Closed</Stamp>}
              </p>
              <p className="wrap-anywhere">
                {labelOf(roleWords, account.role)}, {account.who}
                <br />
                <Address of={account.email} />
              </p>
              {account.closedAt === null ? null : (
                <p className="text-soft">
                  Closed <LocalTime at={account.closedAt} />
                </p>
              )}
              {account.deputyUntil === null ? null : (
                <p>
                  Stands in for the safety officer until <LocalTime at={account.deputyUntil} />
                </p>
              )}
              {account.isTheirs ? (
                <ChangeForms account={account} roles={roles} isOwn={account.id === ownUserId} actions={actions} />
              ) : null}
            </li>
          ))}
        </ul>
      </section>
      <section aria-labelledby="open" className="max-w-xl space-y-3">
        <h2 id="open">Open an account</h2>
        <p>You get a link to hand over. The person sets the password with it; nobody else ever knows it.</p>
        <AnswerForm action={actions.invite} submit="Open the account">
          <AskedText name="name" id="new-name" label="Full name" autoComplete="off" maxLength={120} />
          <AskedText
            name="email"
            id="new-email"
            label="E-mail address"
            type="email"
            autoComplete="off"
            maxLength={200}
          />
          <RoleField id="new-role" roles={roles} value="" />
          {dealers.length === 0 ? null : (
            <Field id="new-dealer" label="Dealer, for a dealer's account">
              {(wiring) => (
                <DealerSelect
                  {...wiring}
                  name="dealerCode"
                  defaultValue=""
                  dealers={dealers}
                  none="The maker's own people"
                />
              )}
            </Field>
          )}
        </AnswerForm>
      </section>
    </div>
  );
}

function RoleField({ id, roles, value }: { id: string; roles: readonly Role[]; value: string }) {
  return (
    <AskedSelect name="role" id={id} label="Role" defaultValue={value}>
      <option value="">Choose</option>
      {roles.map((role) => (
        <option key={role} value={role}>
          {roleWords[role]}
        </option>
      ))}
    </AskedSelect>
  );
}

interface ChangeFormsProps {
  readonly account: AccountRow;
  readonly roles: readonly Role[];
  readonly isOwn: boolean;
  readonly actions: AccountActions;
}

function ChangeForms({ account, roles, isOwn, actions }: ChangeFormsProps) {
  const { id, name, role, closedAt } = account;
  const key = <input type="hidden" name="userId" value={id} />;
  return (
    <details>
      <summary className="min-h-11 cursor-pointer py-2 font-semibold">
        Change<span className="sr-only"> the account of {name}</span>
      </summary>
      <div className="space-y-5 border-t border-rule pt-3">
        {closedAt === null ? (
          <>
            <AnswerForm action={actions.edit} submit="Keep name and role" weight="second">
              {key}
              <AskedText name="name" id={`name-${id}`} label="Full name" defaultValue={name} maxLength={120} />
              <RoleField id={`role-${id}`} roles={roles} value={role} />
            </AnswerForm>
            <AnswerForm action={actions.inviteAgain} submit="Make a link for a new password" weight="second">
              {key}
            </AnswerForm>
            {account.mayBeDeputy && actions.nameDeputy !== undefined ? (
              <AnswerForm action={actions.nameDeputy} submit="Keep as deputy of the safety officer" weight="second">
                {key}
                <Field
                  id={`deputy-${id}`}
                  label="Stands in for the safety officer until"
                  hint="Lowers safety flags and acknowledges incidents until the end of this day; empty to end it."
                >
                  {(wiring) => (
                    <TextInput
                      {...wiring}
                      name="until"
                      type="date"
                      defaultValue={account.deputyUntil?.toISOString().slice(0, 10) ?? ""}
                    />
                  )}
                </Field>
              </AnswerForm>
            ) : null}
            {isOwn ? null : (
              <AnswerForm action={actions.close} submit={`Close the account of ${name}`} weight="danger">
                {key}
              </AnswerForm>
            )}
          </>
        ) : (
          <AnswerForm action={actions.openAgain} submit={`Open the account of ${name} again`} weight="second">
            {key}
          </AnswerForm>
        )}
      </div>
    </details>
  );
}

/** On a phone an address too long for a line breaks behind its sign, not within a word. */
function Address({ of: address }: { readonly of: string }) {
  const sign = address.indexOf("@") + 1;
  return (
    <>
      {address.slice(0, sign)}
      <wbr />
      {address.slice(sign)}
    </>
  );
}
