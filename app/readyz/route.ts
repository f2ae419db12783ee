/**
 * Whether requests may be sent here, for whatever hands them out: the database answers and is in the shape that this
 * version expects. Says why not in a few words, and nothing that is anybody's business.
 */
import { databaseIsReady } from "@/lib/store";

export const dynamic = "force-dynamic";

export async function GET(): Promise<Response> {
  const ready = await databaseIsReady();
  return ready.ok ? Response.json({ ready: true }) : Response.json({ ready: false, why: ready.why }, { status: 503 });
}
