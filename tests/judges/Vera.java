// Validates PDF files with veraPDF, many files in one JVM.
// java Vera.java's class with: FLAVOURS FILE...   such as: ua1,2a proposal.pdf
// Prints one line a flavour and file; on a failure also each broken rule. Exit 0 only if all pass.
import java.io.FileInputStream;
import java.util.Map;
import java.util.TreeMap;
import org.verapdf.gf.foundry.VeraGreenfieldFoundryProvider;
import org.verapdf.pdfa.Foundries;
import org.verapdf.pdfa.PDFAParser;
import org.verapdf.pdfa.PDFAValidator;
import org.verapdf.pdfa.flavours.PDFAFlavour;
import org.verapdf.pdfa.results.TestAssertion;
import org.verapdf.pdfa.results.ValidationResult;

public class Vera {
    static boolean judge(PDFAFlavour flavour, String file) {
        try (FileInputStream in = new FileInputStream(file);
                PDFAParser parser = Foundries.defaultInstance().createParser(in, flavour);
                PDFAValidator judge = Foundries.defaultInstance().createValidator(flavour, false)) {
            ValidationResult result = judge.validate(parser);
            Map<String, Integer> failed = new TreeMap<>();
            for (TestAssertion a : result.getTestAssertions())
                if (a.getStatus() == TestAssertion.Status.FAILED)
                    failed.merge(a.getRuleId().getClause() + "/" + a.getRuleId().getTestNumber()
                        + " " + a.getMessage().replaceAll("\\s+", " "), 1, Integer::sum);
            boolean pass = result.isCompliant() && failed.isEmpty();
            System.out.printf("%s %s %s checks=%d rules=%d failedRules=%d%n", pass ? "PASS" : "FAIL",
                flavour.getId(), file, result.getTotalAssertions(),
                result.getValidationProfile().getRules().size(), failed.size());
            failed.forEach((rule, times) -> System.out.printf("  %d x %s%n", times, rule));
            return pass;
        } catch (Exception e) {
            System.out.printf("FAIL %s %s unreadable: %s%n", flavour.getId(), file, e);
            return false;
        }
    }

    public static void main(String[] args) {
        if (args.length < 2) { System.err.println("usage: Vera FLAVOURS FILE..."); System.exit(3); }
        java.util.logging.LogManager.getLogManager().reset();
        VeraGreenfieldFoundryProvider.initialise();
        boolean pass = true;
        for (int i = 1; i < args.length; i++)
            for (String id : args[0].split(",")) {
                PDFAFlavour flavour = PDFAFlavour.byFlavourId(id);
                if (flavour == PDFAFlavour.NO_FLAVOUR) throw new IllegalArgumentException("no flavour " + id);
                pass &= judge(flavour, args[i]);
            }
        System.exit(pass ? 0 : 1);
    }
}
