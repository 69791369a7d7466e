/** Known to everybody, which is why a demo account works in a demo database only. */
export const DEMO_PASSWORD = "nine quiet groups";
