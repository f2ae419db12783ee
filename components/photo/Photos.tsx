/**
 * Photos of the trim: what was cut away from this piece, seen rather than told. Each with who took it and when; a removed
 * one can be put back. Everything here works without a script.
 */
import { Button } from "@/components/form";
import { PhotoForm } from "./PhotoForm";
import "./photo.css";

export interface PhotoView {
  readonly id: string;
  readonly caption: string;
  readonly width: number;
  readonly height: number;
  readonly by: string;
  readonly at: string;
}

export interface PhotosProps {
  readonly testId: string;
  readonly from: "test" | "block";
  readonly photos: readonly PhotoView[];
  /** Removed, and can be put back. */
  readonly removed: readonly Pick<PhotoView, "id" | "caption" | "by" | "at">[];
  /** How many more there is room for; null for whoever may only look. */
  readonly room: number | null;
  /** Why the last one was not kept. */
  readonly refused: string | null;
  readonly remove: (formData: FormData) => Promise<void>;
  readonly putBack: (formData: FormData) => Promise<void>;
}

export function Photos({ testId, from, photos, removed, room, refused, remove, putBack }: PhotosProps) {
  return (
    <section aria-labelledby="photos" className="photos">
      <h2 id="photos">Photos of the trim</h2>
      {photos.length > 0 && (
        <ul>
          {photos.map((photo, index) => (
            <li key={photo.id}>
              <figure>
                <a href={address(photo.id)}><img src={address(photo.id)} alt={shows(photo, index)} width={photo.width} height={photo.height} loading="lazy" decoding="async" /></a>
                <figcaption>{photo.caption !== "" && <>{photo.caption}<br /></>}<span className="quiet">{photo.by}, {photo.at}</span></figcaption>
              </figure>
              {room !== null && <form action={remove}><input type="hidden" name="photo" value={photo.id} /><Button type="submit" small aria-label={`Remove the photo: ${shows(photo, index)}`}>Remove</Button></form>}
            </li>
          ))}
        </ul>
      )}
      {removed.map((photo) => (
        <form key={photo.id} action={putBack} className="removed">
          <span className="quiet">{photo.caption === "" ? "A photo" : `“${photo.caption}”`} was removed by {photo.by}, {photo.at}.</span>
          <input type="hidden" name="photo" value={photo.id} />
          <Button type="submit" small>Put it back</Button>
        </form>
      ))}
      {room !== null && (room > 0 ? <PhotoForm testId={testId} from={from} refused={refused} /> : <p className="quiet">There is room for no more photos here. Remove one to add another.</p>)}
    </section>
  );
}

const address = (id: string): string => `/photos/${encodeURIComponent(id)}`;
const shows = ({ caption }: Pick<PhotoView, "caption">, index: number): string => (caption === "" ? `Photo of the trim ${index + 1}, without a caption` : caption);
