/**
 * How every page opens: where it stands (trail), its title, of what and as of when, what can be done, and then one
 * sentence that answers the question its reader came with.
 *
 *   <PageTop title="Dishes" of="24 dishes · as of Wed 25 Nov 2026" answer={<>Two dishes stand over target.</>}>
 *     <ButtonLink href="/dishes/new">New dish</ButtonLink>
 *   </PageTop>
 */
import Link from "next/link";
import type { ReactNode } from "react";

export interface PageTopProps {
  readonly title: ReactNode;
  /** The line under the title in the second ink: of what, how many, as of when. */
  readonly of?: ReactNode;
  /** One sentence, or two, that answer. */
  readonly answer?: ReactNode;
  /** Where this page hangs: [{ name: "Dishes", href: "/dishes" }]. */
  readonly trail?: readonly { readonly name: string; readonly href: string }[];
  /** What can be done here: buttons and links. */
  readonly children?: ReactNode;
}

export function PageTop({ title, of, answer, trail, children }: PageTopProps) {
  return (
    <>
      <div className="top">
        <div>
          {trail && trail.length > 0 && (
            <nav className="trail" aria-label="Where this page hangs">
              {trail.map((step) => <span key={step.href}><Link href={step.href}>{step.name}</Link> › </span>)}
            </nav>
          )}
          <h1>{title}</h1>
          {of !== undefined && <p className="of">{of}</p>}
        </div>
        {children !== undefined && <div className="do">{children}</div>}
      </div>
      {answer !== undefined && <p className="say">{answer}</p>}
    </>
  );
}
