/** The number of the request that is being answered, as the log and the answer's x-request-id carry it. Server only. */
import { headers } from "next/headers";

export async function requestId(): Promise<string> {
  return (await headers()).get("x-request-id") ?? "";
}
