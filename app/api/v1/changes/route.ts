/** Recording a change, or trying it. */
import { answering } from "../../answer";
import { ROUTES } from "../../routes";
import { recordSent } from "../../record-sent";

export const POST = answering(ROUTES.changes, recordSent);
