/**
 * The installation's one row: the secret that signs its cookies, made once by whichever process is first, and who made
 * the first account.
 */
import { randomBytes } from "node:crypto";
import type { Clock, Database, Transaction } from "@/lib/store";

interface Installation {
  readonly secret: string;
  readonly founderId: string | null;
}

/** The installation's row; made if this is the very first asking. */
export async function readInstallation(database: Database, clock: Clock): Promise<Installation> {
  const found = await database.prisma.installation.findUnique({ where: { id: 1 } });
  if (found) return found;
  const secret = randomBytes(48).toString("base64url");
  await database.prisma.$executeRaw`
    INSERT INTO installation (id, secret, created_at) VALUES (1, ${secret}, ${new Date(clock.now()).toISOString()}::timestamptz)
    ON CONFLICT (id) DO NOTHING`;
  return database.prisma.installation.findUniqueOrThrow({ where: { id: 1 } });
}

/** Writes down who was first, unless somebody was already: then false. Of many at once one gets true. */
export async function becomeFounder(tx: Transaction, personId: string): Promise<boolean> {
  return await tx.$executeRaw`UPDATE installation SET founder_id = ${personId} WHERE id = 1 AND founder_id IS NULL` === 1;
}
