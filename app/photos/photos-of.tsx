/** The photos of a test or a sheet as a part of its page: what there is, and whether the reader may add to it. */
import { MOST_PHOTOS, sayPhotoProblem } from "@/lib/store";
import { Photos } from "@/components/photo/Photos";
import { printMoment } from "../(kitchen)/moment";
import type { OpenKitchen } from "../(kitchen)/open-kitchen";
import { putBackPhoto, removePhoto } from "./actions";

export interface PhotosOfProps {
  readonly open: OpenKitchen;
  /** The test, or the sheet that may become it. */
  readonly testId: string;
  readonly from: "test" | "block";
  /** Why the last photo was not kept, as the address of the page says it (?photo). */
  readonly refused: string | readonly string[] | undefined;
}

export async function PhotosOf({ open: { store, kitchenId, kitchen, may }, testId, from, refused }: PhotosOfProps) {
  const photos = await store.photosOf(kitchenId, testId);
  const mayAdd = may("record a test");
  if (photos.length === 0 && !mayAdd) return null;
  const shown = photos.filter(({ removed }) => removed === null);
  return (
    <Photos testId={testId} from={from} room={mayAdd ? MOST_PHOTOS - shown.length : null} refused={typeof refused === "string" ? sayPhotoProblem(refused) : null} remove={removePhoto} putBack={putBackPhoto}
      photos={shown.map(({ id, caption, width, height, by, at }) => ({ id, caption, width, height, by, at: printMoment(at, kitchen) }))}
      removed={mayAdd ? photos.flatMap(({ id, caption, removed }) => (removed === null ? [] : [{ id, caption, by: removed.by, at: printMoment(removed.at, kitchen) }])) : []} />
  );
}
