/** Where lamps go on by the hour of sunset, if no latitude is given, degrees north: the middle of Europe. Common practice. */
export const LAMP_LATITUDE_DEG = 48;
