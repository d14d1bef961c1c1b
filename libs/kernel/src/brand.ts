declare const brand: unique symbol;

/**
 * A plain value that carries its meaning in its type: a `Minutes` cannot be handed in where a `Metres` is asked for.
 * At run time it is the plain value and nothing more.
 */
export type Brand<Value, Name extends string> = Value & { readonly [brand]: Name };
