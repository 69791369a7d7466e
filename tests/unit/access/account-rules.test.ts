import { expect, test } from "vitest";
import { type AccountChange, rolesToGive, whyNotChanged } from "@/lib/access/account-rules";
import { type Role, roles } from "@/lib/access/actor";

const person = (role: Role, userId = `a ${role}`) => ({ userId, role });
const account = (role: Role, over: { userId?: string; isClosed?: boolean } = {}) => ({
  userId: "x",
  role,
  isClosed: false,
  ...over,
});
const close: AccountChange = { kind: "close" };
const to = (role: Role): AccountChange => ({ kind: "role", role });

test("each gives the roles below the own office, and a manager makes no second manager", () => {
  const given = Object.fromEntries(roles.map((role) => [role, rolesToGive({ role }).join(" ")]));
  expect(given).toEqual({
    dealer: "",
    "dealer-admin": "dealer dealer-admin",
    technician: "",
    "service-lead": "",
    manager: "technician service-lead safety-officer finance",
    "safety-officer": "",
    finance: "",
    administrator: roles.join(" "),
  });
});

test("nobody changes an account of a role that is not theirs to give, nor gives such a role", () => {
  expect(whyNotChanged(person("manager"), account("administrator"), close, 3)).toBe("not-theirs");
  expect(whyNotChanged(person("manager"), account("manager"), close, 3)).toBe("not-theirs");
  expect(whyNotChanged(person("manager"), account("technician"), to("manager"), 3)).toBe("role-not-theirs");
  expect(whyNotChanged(person("technician"), account("technician"), close, 3)).toBe("not-theirs");
  expect(whyNotChanged(person("manager"), account("technician"), to("service-lead"), 0)).toBeNull();
  expect(whyNotChanged(person("administrator"), account("dealer"), to("technician"), 3)).toBe("other-kind");
});

test("the last safety officer stays: incidents are kept and flags lowered by that office alone", () => {
  for (const keeper of [person("administrator"), person("manager")]) {
    for (const change of [close, to("finance")]) {
      expect(whyNotChanged(keeper, account("safety-officer"), change, 0)).toBe("last-safety-officer");
      expect(whyNotChanged(keeper, account("safety-officer"), change, 1)).toBeNull();
      expect(whyNotChanged(keeper, account("safety-officer", { isClosed: true }), change, 0)).toBeNull();
    }
    expect(whyNotChanged(keeper, account("safety-officer"), to("safety-officer"), 0)).toBeNull();
  }
});

test("the last administrator stays, and nobody takes away the own office", () => {
  const administrator = person("administrator", "me");
  expect(whyNotChanged(administrator, account("administrator"), close, 1)).toBeNull();
  expect(whyNotChanged(administrator, account("administrator"), close, 0)).toBe("last-administrator");
  expect(whyNotChanged(administrator, account("administrator"), to("finance"), 0)).toBe("last-administrator");
  expect(whyNotChanged(administrator, account("administrator", { isClosed: true }), close, 0)).toBeNull();
  for (const change of [close, to("finance")])
    expect(whyNotChanged(administrator, account("administrator", { userId: "me" }), change, 5)).toBe("own-account");
  expect(whyNotChanged(administrator, account("administrator", { userId: "me" }), to("administrator"), 0)).toBeNull();
});
