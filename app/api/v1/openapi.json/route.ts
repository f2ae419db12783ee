/** The document that describes all of it. It says nothing of any kitchen, and so asks for no key. */
import { openApi } from "../../openapi";

export function GET(): Response {
  return Response.json(openApi());
}
