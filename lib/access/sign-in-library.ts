/**
 * The sign-in library (better-auth), set up for this house: local accounts by name and password, sessions in the
 * database that end when they are revoked, nothing from outside. It checks passwords, makes and reads sessions and
 * signs their cookies; accounts are made by our own transactions, and none of its routes is reachable over HTTP.
 */
import { prismaAdapter } from "@better-auth/prisma-adapter";
import { betterAuth } from "better-auth";
import { parseSetCookieHeader, toCookieOptions } from "better-auth/cookies";
import { username } from "better-auth/plugins/username";
import type { Database } from "@/lib/store";
import type { Cookie } from "./contract";
import { hashPassword, verifyPassword } from "./password";

/** A kitchen's tablet should not forget who is on it over a quiet season. */
export const SESSION_DAYS = 90;

export interface LibraryOptions {
  /** Signs the cookies; the same for every process of the installation. */
  readonly secret: string;
  /** Cookies travel over TLS only. */
  readonly secure: boolean;
}

export function signInLibrary({ prisma }: Database, { secret, secure }: LibraryOptions) {
  return betterAuth({
    appName: "Trimledger",
    // Never called over HTTP: the address only tells the library not to look for one.
    baseURL: secure ? "https://trimledger.invalid" : "http://trimledger.invalid",
    secret,
    database: prismaAdapter(prisma, { provider: "postgresql", transaction: false }),
    user: { modelName: "person" },
    account: { modelName: "credential" },
    session: { expiresIn: SESSION_DAYS * 24 * 60 * 60, disableSessionRefresh: true, cookieCache: { enabled: false } },
    emailAndPassword: { enabled: true, disableSignUp: true, password: { hash: hashPassword, verify: verifyPassword }, maxPasswordLength: 1000 },
    plugins: [username({ minUsernameLength: 1, maxUsernameLength: 200, usernameValidator: () => true })],
    rateLimit: { enabled: false },
    telemetry: { enabled: false },
    logger: { disabled: true },
    advanced: {
      cookiePrefix: "trimledger",
      useSecureCookies: secure,
      defaultCookieAttributes: { sameSite: "lax", httpOnly: true, secure, path: "/" },
      ipAddress: { ipAddressHeaders: ["x-trimledger-address"] },
    },
  });
}

export type SignInLibrary = ReturnType<typeof signInLibrary>;

/** The cookies that an answer of the library sets. */
export function cookiesOf(headers: Headers): readonly Cookie[] {
  return headers.getSetCookie().flatMap((line) => [...parseSetCookieHeader(line)].map(([name, attributes]) => {
    const options = toCookieOptions(attributes);
    return {
      name, value: attributes.value,
      options: { path: options.path ?? "/", httpOnly: options.httpOnly ?? true, secure: options.secure ?? false, sameSite: options.sameSite === "strict" ? "strict" as const : "lax" as const, maxAge: options.maxAge },
    };
  }));
}
