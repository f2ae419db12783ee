/** The care at the door, and how a difference is told. */

export const RECEIVING_CARE = "Before you sign: take the temperature of what is chilled or frozen, look at the use-by days, and weigh what is billed by weight. What has to be refused, and how long lots and papers are kept, your local food code says; nothing here comes before it.";
