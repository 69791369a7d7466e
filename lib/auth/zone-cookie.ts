/** The cookie in which a browser tells its own time zone. */
export const zoneCookie = "reader-zone";
