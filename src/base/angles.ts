const RAD_PER_DEG = Math.PI / 180;

/** Degrees to radians. */
export const radOf = (deg: number): number => deg * RAD_PER_DEG;
/** Radians to degrees. */
export const degOf = (rad: number): number => rad / RAD_PER_DEG;
/** Cosine of an angle in degrees. */
export const cosDeg = (deg: number): number => Math.cos(deg * RAD_PER_DEG);
/** Sine of an angle in degrees. */
export const sinDeg = (deg: number): number => Math.sin(deg * RAD_PER_DEG);
/** An angle brought into 0 … 360 degrees (360 itself becomes 0). */
export const turn360 = (deg: number): number => ((deg % 360) + 360) % 360;
