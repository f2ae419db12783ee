/** Whether the process is alive, for whatever watches over it. Asks nobody: a slow database is no reason to be killed. */
export const dynamic = "force-dynamic";

export function GET(): Response {
  return Response.json({ alive: true });
}
