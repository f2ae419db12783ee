/** Reading a dealer's price list: whose it is, and the file. */
import type { Metadata } from "next";
import { FILE_LIMITS } from "@/lib/exchange";
import { ButtonLink, FormFrame, SelectField } from "@/components/form";
import { EmptyPage } from "@/components/sheet/EmptyPage";
import { PageTop } from "@/components/sheet/PageTop";
import { SendForm } from "@/components/price-list/SendForm";
import type { Asked } from "../../find";
import { openKitchen } from "../../open-kitchen";
import { toldLast } from "../carry-out";

export const metadata: Metadata = { title: "Read a price list" };

export default async function NewList({ searchParams }: { readonly searchParams: Promise<Asked> }) {
  const asked = await searchParams;
  const { live } = await openKitchen("change items and prices");
  const dealers = [...live.book.shelves.dealer.values()].map(({ id, name }) => ({ value: id, label: name })).sort((a, b) => (a.label < b.label ? -1 : 1));
  const wanted = typeof asked["dealer"] === "string" && live.book.shelves.dealer.has(asked["dealer"]) ? asked["dealer"] : undefined;
  return (
    <>
      <PageTop title="Read a price list" trail={[{ name: "Price lists", href: "/lists" }]}
        answer="The file is read and every line compared with the book. You see what each would change, and what that does to the dishes, before anything is recorded." />
      {dealers.length === 0
        ? <EmptyPage what="A price list belongs to a dealer, and there is none in the book yet."><ButtonLink href="/dealers/new">Add a dealer</ButtonLink></EmptyPage>
        : (
          <SendForm to="/lists/file" submit="Read it" begins="Sending the file" file largest={FILE_LIMITS.bytes} stopped="Stopped. Nothing was kept." refused={await toldLast(asked["told"])}>
            <FormFrame id="new-list" values={{}} problems={[]}>
              <div className="fields">
                <SelectField name="dealer" label="Whose list" {...(dealers.length === 1 ? {} : { none: "Choose…" })} choices={dealers} start={wanted ?? (dealers.length === 1 ? dealers[0]?.value : undefined)} required />
                <div className="field">
                  <label htmlFor="new-list-file">The file</label>
                  <p className="hint" id="new-list-file-hint">A workbook (.xlsx), text with columns (.csv), or a UBL catalogue (.xml); at most 20 MB</p>
                  <input id="new-list-file" type="file" name="file" required aria-describedby="new-list-file-hint" accept=".csv,.txt,.tsv,.xlsx,.xml,text/csv,text/xml,application/xml,application/vnd.openxmlformats-officedocument.spreadsheetml.sheet" />
                </div>
              </div>
            </FormFrame>
          </SendForm>
        )}
    </>
  );
}
