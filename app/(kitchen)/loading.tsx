/** While a page is being worked out. */
export default function Loading() {
  return (
    <div role="status" aria-label="Working it out">
      <p className="quiet">Working it out…</p>
      <div className="waiting" />
    </div>
  );
}
