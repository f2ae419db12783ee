/** The programs that have a key to this kitchen: what each may, who made it, when it was last used; making and ending keys. */
import type { Metadata } from "next";
import { openAccess } from "@/lib/access";
import { PlainForm, SelectField, TextField } from "@/components/form";
import { EmptyPage } from "@/components/sheet/EmptyPage";
import { PageTop } from "@/components/sheet/PageTop";
import { Table } from "@/components/table/Table";
import { ownAddress } from "../../visit";
import { printMoment } from "../moment";
import { openKitchen } from "../open-kitchen";
import { endKey, makeKey } from "./actions";

export const metadata: Metadata = { title: "Programs" };

const MAY_WORDS = { read: "reads", write: "reads and writes" } as const;

export default async function Programs() {
  const { kitchen, kitchenId } = await openKitchen("look after programs");
  const keys = await (await openAccess()).programKeys(kitchenId);
  const inForce = keys.filter(({ ended }) => ended === null);
  const over = keys.filter(({ ended }) => ended !== null);
  const address = await ownAddress();
  return (
    <>
      <PageTop title="Programs" of={`${inForce.length === 1 ? "One key is" : `${inForce.length} keys are`} in force in ${kitchen.name}`}
        answer="A till, a spreadsheet or a script comes in with a key of its own. It sees prices and costs, never people; what it records stands in the record under its name." />
      <section aria-labelledby="make-key">
        <h2 id="make-key">Make a key</h2>
        <PlainForm id="make-key-form" action={makeKey} submit="Make a key">
          <div className="fields">
            <TextField name="name" label="Which program it is for" required hint="The record calls it by this name" />
            <SelectField name="may" label="May" choices={[{ value: "read", label: "read" }, { value: "write", label: "read and write" }]} hint="Prices and costs with everything else" />
          </div>
        </PlainForm>
      </section>
      <section aria-labelledby="keys">
        <h2 id="keys">Keys in force</h2>
        {inForce.length === 0 ? <EmptyPage what="No program has a key yet. Whoever takes a list away by hand needs none: that is what Files is for." /> : (
          <ul className="plain-list">
            {inForce.map((key) => (
              <li key={key.id}>
                <p><strong>{key.name}</strong>, {MAY_WORDS[key.may]} <span className="quiet">· made by {key.createdBy}, {printMoment(key.createdAt, kitchen)} · {key.lastUsedAt === null ? "not used yet" : `last used ${printMoment(key.lastUsedAt, kitchen)}`}</span></p>
                <PlainForm id={`end-${key.id}`} action={endKey} submit={`End the key of ${key.name}`} plain hidden={{ key: key.id }} />
              </li>
            ))}
          </ul>
        )}
      </section>
      {over.length > 0 && (
        <section aria-labelledby="ended">
          <h2 id="ended">Ended</h2>
          <Table quietCaption caption="Keys that open nothing any more" rows={over} rowKey={({ id }) => id} columns={[
            { key: "name", head: "Program", cell: ({ name }) => name }, { key: "may", head: "Could", fold: "phone", label: "", cell: ({ may }) => MAY_WORDS[may] },
            { key: "made", head: "Made", fold: "narrow", label: "made", cell: ({ createdAt, createdBy }) => `${printMoment(createdAt, kitchen)}, ${createdBy}` },
            { key: "ended", head: "Ended", width: 12, cell: ({ ended }) => (ended === null ? "" : `${printMoment(ended.at, kitchen)}, ${ended.by}`) },
          ]} />
        </section>
      )}
      <section aria-labelledby="how">
        <h2 id="how">How a program comes in</h2>
        <p>At <code>{address}/api/v1</code>, with <code>Authorization: Bearer</code> and its key. What can be asked and sent is described in <a href="/api/v1/openapi.json">/api/v1/openapi.json</a>, and with examples in docs/api.md.</p>
      </section>
    </>
  );
}
