/** Passwords that anybody would try first: long enough to pass for one, and all over the lists. Lower case, from memory. */
export const COMMON_PASSWORDS: ReadonlySet<string> = new Set(`
1234567890 12345678910 123456789012 0123456789 0987654321 9876543210 1111111111 0000000000 1122334455 1234512345
1212121212 123123123123 1q2w3e4r5t 1q2w3e4r5t6y 1qaz2wsx3edc q1w2e3r4t5 qwertyuiop qwerty12345 qwerty123456 qwertyqwerty
asdfghjkl; asdfghjkl1 zxcvbnm123 abcdefghij abcdef123456 abc1234567 abcd123456 a123456789 aaaaaaaaaa password12
password123 password1234 password12345 passw0rd123 p@ssw0rd123 passwordpassword mypassword1 mypassword123 iloveyou12
iloveyou123 iloveyouforever letmein123 letmein1234 welcome123 welcome1234 admin12345 admin123456 administrator
changeme12 changeme123 default123 football12 football123 baseball12 baseball123 basketball sunshine12 sunshine123
princess12 princess123 dragon12345 monkey12345 superman123 batman12345 starwars123 trustno1trustno1 whatever123
michael123 jennifer12 jessica123 charlie123 jordan12345 liverpool1 liverpool123 manchester chelsea123 arsenal123
restaurant restaurant1 restaurant123 kitchen123 kitchen1234 kitchenkitchen chefchefchef chef123456 headchef123 souschef123
cooking123 foodcost123 trimledger trimledger1 trimledger123 correcthorsebatterystaple summer2025 summer2026 winter2025
winter2026 spring2026 autumn2026 computer12 computer123 internet12 samsung123 google1234 facebook12 qazwsxedcrfv
zaq12wsxcde3 mustang123 harley1234 jesuschrist blessed123 freedom123 forever123 lovelove12 lovelovelove hello12345
helloworld hello123456 test123456 testing123 testtesttest temp123456 guest12345 master1234 secret1234 access1234
`.trim().split(/\s+/));
