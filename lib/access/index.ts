export type { Access, Caller, Cookie, Invitation, Member, Membership, NewPerson, OpenSession, PeopleDeed, PeopleEntry, Program, ProgramKey, SignIn, Visitor } from "./contract";
export { makeAccess, openAccess } from "./open-access";
export { wayBackFor } from "./way-back";
export { standingWords } from "./people-record";
export { DEEDS, type Deed, ROLES, ROLE_WORDS, type Role, type Standing, deedOf, deedsOf, isRole, may, refusal } from "./roles";
