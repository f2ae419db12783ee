/** Whatever else is asked under /api: there is nothing there, told the way programs are told. */
import { problem } from "../problem";

function nowhere(): Response {
  return problem("not-there", "There is no such address here. GET /api/v1/openapi.json lists those that there are.");
}

export const GET = nowhere;
export const POST = nowhere;
export const PUT = nowhere;
export const PATCH = nowhere;
export const DELETE = nowhere;
