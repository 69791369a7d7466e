import type { ScenarioDealer, ScenarioUser } from "./scenario";
import { stableId } from "./stable-id";
import type { StoryCalendar } from "./story-calendar";

/** Code, name, town (invented), country, zone, joined, selling since. */
const shops = [
  ["D01", "Quellmoor Zweirad", "Obermarn", "DE", "Europe/Berlin", "2023-10-02", "2023-10-02"],
  ["D02", "Kurbelhof Tietzmann", "Altwiedach", "DE", "Europe/Berlin", "2023-11-06", "2023-11-06"],
  ["D03", "Oficina Duas Margens", "Vila Serrosa", "PT", "Europe/Lisbon", "2025-06-02", "2024-03-04"],
  ["D04", "Saltgrass Two-Wheel", "Port Hollin", "US", "America/Los_Angeles", "2024-01-15", "2024-01-15"],
  ["D05", "Bent Spoke Garage", "Tallow Creek", "US", "America/Los_Angeles", "2024-06-03", "2024-06-03"],
  ["D06", "Wattle Row Mopeds", "Gumbarra", "AU", "Australia/Sydney", "2024-02-05", "2024-02-05"],
  ["D07", "Chakrapath Riders", "Devanahalpur", "IN", "Asia/Kolkata", "2023-12-04", "2023-12-04"],
  ["D08", "Nilgai Wheel Works", "Suryakund Nagar", "IN", "Asia/Kolkata", "2024-09-02", "2024-09-02"],
] as const;

/** Eight invented dealers in five countries. One sold for more than a year before its sales and returns reached us. */
export function buildDealers(at: StoryCalendar): ScenarioDealer[] {
  return shops.map(([code, name, town, country, zone, joinedOn, sellingSince]) => ({
    id: stableId("dealer", code, `${at(joinedOn)}T08:00:00Z`),
    code,
    name,
    town,
    country,
    zone,
    joinedOn: at(joinedOn),
    sellingSince: at(sellingSince),
  }));
}

export const leadEmail = "samira.oskendal@bench.example";
export const managerEmail = "odile.fennimarck@bench.example";
export const safetyOfficerEmail = "ruta.salvendis@bench.example";
/** Those who look at returns in the scenario: a technician and the lead. */
export const serviceEmails = ["jorun.halfvarden@bench.example", leadEmail] as const;

/** People of the demo: every second dealer has a login. Passwords are no part of the scenario. */
export function buildUsers(at: StoryCalendar): ScenarioUser[] {
  const people = [
    ["ilka.morgenbusch@quellmoor.example", "Ilka Morgenbusch", "dealer", "D01"],
    ["gesche.tideloh@quellmoor.example", "Gesche Tideloh", "dealer-admin", "D01"],
    ["duarte.vilarinhaes@duasmargens.example", "Duarte Vilarinhães", "dealer", "D03"],
    ["tansy.okefordham@saltgrass.example", "Tansy Okefordham", "dealer", "D04"],
    ["bram.wattleby@wattlerow.example", "Bram Wattleby", "dealer", "D06"],
    [serviceEmails[0], "Jorun Halfvarden", "technician", null],
    [serviceEmails[1], "Samira Oskendal", "service-lead", null],
    ["mirela.stoykova@bench.example", "Mirela Stoykova", "technician", null],
    [managerEmail, "Odile Fennimarck", "manager", null],
    ["casper.nordhagel@bench.example", "Casper Nordhagel", "manager", null],
    [safetyOfficerEmail, "Rūta Salvendis", "safety-officer", null],
    ["noor.tasselbrink@bench.example", "Noor Tasselbrink", "finance", null],
    ["pell.ostrander@bench.example", "Pell Ostrander", "administrator", null],
  ] as const;
  return people.map(([email, name, role, dealerCode]) => ({
    id: stableId("user", email, `${at("2023-10-02")}T08:00:00Z`),
    email,
    name,
    role,
    dealerCode,
  }));
}
