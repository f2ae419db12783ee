/**
 * Somebody else recorded a change of the same thing while this one was being typed: who, when, theirs beside mine.
 * Nothing typed is lost. Either mine is recorded over theirs (based on theirs, so theirs stays in the record), or
 * theirs is taken, which reads the page anew.
 */
"use client";
import type { Ref } from "react";
import { Told } from "@/components/sheet/Told";
import { Button } from "@/components/form/Button";
import { type Column, Table } from "@/components/table/Table";
import type { Difference, StaleView } from "./state";

const COLUMNS: readonly Column<Difference>[] = [
  { key: "what", head: "", cell: (row) => row.what },
  { key: "mine", head: "Yours", width: 9, cell: (row) => row.mine },
  { key: "theirs", head: "Theirs", width: 9, cell: (row) => row.theirs },
];

export function StaleNote({ stale, ref, busy }: { readonly stale: readonly StaleView[]; readonly ref: Ref<HTMLDivElement>; readonly busy: boolean }) {
  return (
    <Told adverse ref={ref}>
      {stale.map((fact) => (
        <div key={fact.name}>
          <p><strong>{fact.by} {fact.removed ? "took" : "changed"} {fact.name}{fact.removed ? " off the book" : ""} on {fact.at}</strong>, after you opened this page. What you typed is still here, and nothing was saved.</p>
          {fact.differences.length > 0 && <Table caption={`${fact.name}, yours beside theirs`} quietCaption columns={COLUMNS} rows={fact.differences} rowKey={(row) => row.what} />}
        </div>
      ))}
      <p>
        <Button type="submit" name="intent" value="over" aria-disabled={busy}>Record mine over theirs</Button>{" "}
        {/* A plain link to this same page: it is read anew, with theirs in the fields, script or no script. */}
        <a className="btn plain" href="">Take theirs</a>
      </p>
    </Told>
  );
}
