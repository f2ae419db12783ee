/** Before the first end-to-end test: the client generated and the pages built, where that is not done yet. */
import { build, generate } from "../../app/setup.mjs";

export default async function setUp(): Promise<void> {
  const say = (line: string): void => { console.log(line); };
  await generate(say);
  await build(say);
}
